//! Stills of what came to rest, taken in a thread of its own so that nobody has to wait for them.

use std::ops::ControlFlow;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;
use std::time::Duration;

use super::Studio;
use crate::art::Picture;
use crate::proof::view::Camera;
use crate::scene::error::StillError;
use crate::scene::quality::Quality;
use crate::scene::stage::Stage;

/// How long something must be at rest before its still is begun.
const PAUSE: Duration = Duration::from_millis(150);

/// A picture to take.
struct Order {
    number: u64,
    stage: Arc<Stage>,
    camera: Camera,
}

/// A picture that was asked for, or why there is none.
#[derive(Debug)]
pub struct Photo {
    /// The number that [`Darkroom::ask`] gave.
    pub number: u64,
    /// The picture.
    pub picture: Result<Picture, StillError>,
}

/// A studio in a thread of its own. Only the picture asked for last is taken.
#[derive(Debug)]
pub struct Darkroom {
    orders: Sender<Order>,
    photos: Receiver<Photo>,
    wanted: Arc<AtomicU64>,
}

impl Darkroom {
    /// Opens one; `wake` is called whenever a picture is there to be taken.
    ///
    /// # Errors
    /// When the system gives no thread.
    pub fn open(wake: impl Fn() + Send + 'static) -> std::io::Result<Self> {
        let (orders, inbox) = channel();
        let (outbox, photos) = channel();
        let wanted = Arc::new(AtomicU64::new(0));
        let latest = Arc::clone(&wanted);
        thread::Builder::new().name("darkroom".to_owned()).spawn(move || {
            work(&inbox, &latest, &mut |photo| {
                let is_heard = outbox.send(photo).is_ok();
                wake();
                if is_heard { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
            });
        })?;
        Ok(Self { orders, photos, wanted })
    }

    /// Asks for a picture; what was asked for before is called off.
    pub fn ask(&self, stage: &Arc<Stage>, camera: Camera) -> u64 {
        let number = self.wanted.fetch_add(1, Ordering::Relaxed) + 1;
        // A darkroom whose thread is gone gives no picture; the live one stays.
        let _ = self.orders.send(Order { number, stage: Arc::clone(stage), camera });
        number
    }

    /// Calls off what was asked for.
    pub fn call_off(&self) {
        self.wanted.fetch_add(1, Ordering::Relaxed);
    }

    /// The picture asked for last, once it is there.
    pub fn take(&self) -> Option<Photo> {
        let wanted = self.wanted.load(Ordering::Relaxed);
        self.photos.try_iter().filter(|photo| photo.number == wanted).last()
    }
}

fn work(inbox: &Receiver<Order>, latest: &AtomicU64, give: &mut dyn FnMut(Photo) -> ControlFlow<()>) {
    let mut studio = None;
    while let Ok(first) = inbox.recv() {
        let order = inbox.try_iter().last().unwrap_or(first);
        let number = order.number;
        if latest.load(Ordering::Relaxed) != number {
            continue;
        }
        let picture = develop(&mut studio, &order, latest);
        if let Err(StillError::CalledOff) = picture {
            continue;
        }
        if picture.is_err() {
            // A device that failed once is not asked again; another may be there.
            studio = None;
        }
        if give(Photo { number, picture }).is_break() {
            return;
        }
    }
}

fn develop(studio: &mut Option<Studio>, order: &Order, latest: &AtomicU64) -> Result<Picture, StillError> {
    let studio = match studio {
        Some(studio) => studio,
        None => studio.insert(Studio::open(Quality::Good.plan())?),
    };
    let mut step = || match latest.load(Ordering::Relaxed) == order.number {
        true => ControlFlow::Continue(()),
        false => ControlFlow::Break(()),
    };
    // Whoever is about to move on needs no still yet.
    thread::sleep(PAUSE);
    if step().is_break() {
        return Err(StillError::CalledOff);
    }
    studio.follow(&order.stage)?;
    if step().is_break() {
        return Err(StillError::CalledOff);
    }
    studio.take(&order.stage, &order.camera, &mut step)
}

//! Packs made in a thread of their own, with progress, until they are called off.

use std::ops::ControlFlow;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, channel};
use std::thread::Builder;

use super::wake::Waker;
use crate::panels::Pack;
use crate::proof::work::Work;

/// A pack to make.
#[derive(Clone, Debug)]
pub struct Order {
    /// Which.
    pub pack: Pack,
    /// What it is made from.
    pub work: Arc<Work>,
    /// Where its files go.
    pub folder: PathBuf,
}

/// Makes a pack and writes it; is told how many of how many steps are done, and whether to go on. Gives a sentence when it
/// can't.
pub type Make = fn(&Order, &mut dyn FnMut(u64, u64) -> ControlFlow<()>) -> Result<(), String>;

/// What the thread says.
#[derive(Debug)]
pub(super) enum News {
    /// So many steps of so many are done.
    Step(u64, u64),
    /// It ended.
    End(Result<(), String>),
}

/// A pack being made.
#[derive(Debug)]
pub(super) struct Maker {
    pub(super) order: Order,
    pub(super) share: f32,
    pub(super) words: String,
    news: Receiver<News>,
    is_off: Arc<AtomicBool>,
}

impl Maker {
    pub(super) fn start(order: Order, make: Make, waker: Waker) -> std::io::Result<Self> {
        let (outbox, news) = channel();
        let is_off = Arc::new(AtomicBool::new(false));
        let (work, off) = (order.clone(), Arc::clone(&is_off));
        Builder::new().name("maker".to_owned()).spawn(move || {
            let tell = |news: News| {
                // A window that is gone needs no news.
                let _ = outbox.send(news);
                waker.wake();
            };
            let end = run(&work, make, (&off, &tell));
            tell(News::End(end));
        })?;
        Ok(Self { order, share: 0.0, words: String::new(), news, is_off })
    }

    /// Calls it off: no file is written any more.
    pub(super) fn call_off(&self) {
        self.is_off.store(true, Ordering::Relaxed);
    }

    pub(super) fn is_called_off(&self) -> bool {
        self.is_off.load(Ordering::Relaxed)
    }

    /// Takes the news; the end, once it came to one.
    pub(super) fn listen(&mut self) -> Option<Result<(), String>> {
        let mut end = None;
        for news in self.news.try_iter() {
            match news {
                News::Step(done, of) => {
                    self.share = done as f32 / of.max(1) as f32;
                    self.words = format!("{done} of {of}");
                }
                News::End(ended) => end = Some(ended),
            }
        }
        end
    }
}

fn run(order: &Order, make: Make, (off, tell): (&AtomicBool, &dyn Fn(News))) -> Result<(), String> {
    make(order, &mut |done, of| {
        tell(News::Step(done, of));
        if off.load(Ordering::Relaxed) { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::art::Shelf;
    use crate::design::read_design;
    use crate::proof::work::work;

    fn order() -> Order {
        let text = "title = 't'\nunit = 'mm'\n[[tier]]\nname = 'base'\nsize = 200\nheight = 100\n";
        let design = Arc::new(read_design(text, "cake.toml").expect("a design"));
        let work = work(&design, &Arc::new(Shelf::default()), None).expect("worked out");
        Order { pack: Pack::Proof, work: Arc::new(work), folder: PathBuf::from("nowhere") }
    }

    /// Goes on until it is told not to.
    fn endless(_: &Order, tell: &mut dyn FnMut(u64, u64) -> ControlFlow<()>) -> Result<(), String> {
        while tell(3, 4).is_continue() {
            std::thread::sleep(std::time::Duration::from_millis(5));
        }
        Err("it was stopped".to_owned())
    }

    fn ended(maker: &mut Maker) -> Result<(), String> {
        for _ in 0..2_000 {
            if let Some(end) = maker.listen() {
                return end;
            }
            std::thread::sleep(std::time::Duration::from_millis(5));
        }
        panic!("it never ended");
    }

    #[test]
    fn a_pack_tells_how_far_it_is_and_stops_when_it_is_called_off() {
        let mut maker = Maker::start(order(), endless, Waker::new(|| {})).expect("a thread");
        while maker.share == 0.0 {
            assert!(maker.listen().is_none());
        }
        assert_eq!((maker.share, maker.words.as_str()), (0.75, "3 of 4"));
        maker.call_off();
        assert!(ended(&mut maker).is_err() && maker.is_called_off());
    }

    #[test]
    fn a_pack_that_is_made_ends_well() {
        let mut maker = Maker::start(order(), |_, _| Ok(()), Waker::new(|| {})).expect("a thread");
        assert_eq!(ended(&mut maker), Ok(()));
    }
}

//! Waking the window from another thread.

use std::sync::{Arc, Mutex};

/// Wakes the window: it draws once more, and looks what there is. Threads each have a copy.
#[derive(Clone)]
pub(super) struct Waker(Arc<Mutex<Box<dyn Fn() + Send>>>);

impl Waker {
    pub(super) fn new(wake: impl Fn() + Send + 'static) -> Self {
        Self(Arc::new(Mutex::new(Box::new(wake))))
    }

    pub(super) fn wake(&self) {
        // Poisoned or not: a window that a panicking thread could not wake is woken by the next.
        let wake = self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        wake();
    }
}

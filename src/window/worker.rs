//! What takes longer than a frame about a design: seams, sheets, checks, facts, in a thread of its own.

use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread::Builder;

use super::wake::Waker;
use crate::edits::bench::{Done, Job};

/// The way to the thread. Of several jobs that wait only the last is done.
#[derive(Debug)]
pub(super) struct Worker {
    jobs: Sender<Job>,
    done: Receiver<Done>,
}

impl Worker {
    pub(super) fn start(waker: Waker) -> std::io::Result<Self> {
        let (jobs, inbox) = channel::<Job>();
        let (outbox, done) = channel();
        Builder::new().name("worker".to_owned()).spawn(move || {
            while let Ok(first) = inbox.recv() {
                let job = inbox.try_iter().last().unwrap_or(first);
                if outbox.send(job.run()).is_err() {
                    return;
                }
                waker.wake();
            }
        })?;
        Ok(Self { jobs, done })
    }

    pub(super) fn ask(&self, job: Job) {
        // A thread that is gone gives no answer; what was worked out last stays.
        let _ = self.jobs.send(job);
    }

    pub(super) fn done(&self) -> Option<Done> {
        self.done.try_iter().last()
    }
}

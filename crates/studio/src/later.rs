//! Work that is too long for a frame: done on a thread of its own, one piece at a time, its answer fetched by a later
//! frame. What it was asked for comes back with the answer, so that nobody shows an answer to an older question.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{self, Receiver, TryRecvError};
use std::thread;

use egui::Context;

/// One piece of work at a time.
#[derive(Debug)]
pub struct Later<K, V> {
    running: Option<Running<K, V>>,
}

#[derive(Debug)]
struct Running<K, V> {
    key: K,
    answer: Receiver<V>,
    /// When it is dropped, work whose answer nobody waits for is asked to stop.
    asking: Asking,
}

#[derive(Debug)]
struct Asking(Arc<AtomicBool>);

impl Drop for Asking {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

/// Asked by long work: whether nobody wants its answer any more.
#[derive(Clone, Debug)]
pub struct Stop(Arc<AtomicBool>);

impl Stop {
    /// Whether to stop.
    pub fn is_asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

impl<K, V> Default for Later<K, V> {
    fn default() -> Self {
        Later { running: None }
    }
}

impl<K, V: Send + 'static> Later<K, V> {
    /// Begins work, unless some is under way; the window is drawn again when it is done. Answers whether it began.
    pub fn begin(&mut self, ctx: &Context, name: &str, key: K, work: impl FnOnce(&Stop) -> V + Send + 'static) -> bool {
        if self.running.is_some() {
            return false;
        }
        let (give, answer) = mpsc::channel();
        let (ctx, stop) = (ctx.clone(), Arc::new(AtomicBool::new(false)));
        let theirs = Stop(Arc::clone(&stop));
        let begun = thread::Builder::new().name(name.to_owned()).spawn(move || {
            // Nobody listens any more when the answer is no longer wanted.
            let _ = give.send(work(&theirs));
            ctx.request_repaint();
        });
        if begun.is_ok() {
            self.running = Some(Running { key, answer, asking: Asking(stop) });
        }
        begun.is_ok()
    }

    /// The answer, once it is there, with what it was asked for.
    pub fn fetch(&mut self) -> Option<(K, V)> {
        let running = self.running.take()?;
        match running.answer.try_recv() {
            Ok(answer) => Some((running.key, answer)),
            Err(TryRecvError::Empty) => {
                self.running = Some(running);
                None
            }
            Err(TryRecvError::Disconnected) => None,
        }
    }

    /// Asks the work under way to stop and to answer with what it has.
    pub fn stop(&self) {
        if let Some(running) = &self.running {
            running.asking.0.store(true, Ordering::Relaxed);
        }
    }

    /// What is being worked on.
    pub fn asked(&self) -> Option<&K> {
        self.running.as_ref().map(|running| &running.key)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;

    fn wait(later: &mut Later<u32, u32>) -> Option<(u32, u32)> {
        (0..2000).find_map(|_| {
            thread::sleep(Duration::from_millis(1));
            later.fetch()
        })
    }

    #[test]
    fn one_piece_at_a_time_and_its_answer_comes_with_its_question() {
        let (ctx, mut later) = (Context::default(), Later::default());
        let (go, wait_for) = mpsc::channel::<()>();
        assert!(later.begin(&ctx, "test", 7, move |_| {
            let _ = wait_for.recv();
            49
        }));
        assert!(!later.begin(&ctx, "test", 8, |_| 64), "one is under way");
        assert_eq!(later.asked(), Some(&7));
        assert_eq!(later.fetch(), None);
        drop(go);
        assert_eq!(wait(&mut later), Some((7, 49)));
        assert_eq!(later.asked(), None);
    }

    #[test]
    fn work_that_nobody_waits_for_is_asked_to_stop() {
        let ctx = Context::default();
        let mut later = Later::default();
        let (give, stopped) = mpsc::channel();
        later.begin(&ctx, "test", 1, move |stop| {
            while !stop.is_asked() {
                thread::sleep(Duration::from_millis(1));
            }
            let _ = give.send(());
        });
        drop(later);
        assert_eq!(stopped.recv_timeout(Duration::from_secs(10)), Ok(()));
    }
}

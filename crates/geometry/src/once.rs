//! What is worked out when it is first asked for, and kept.

use std::sync::OnceLock;

/// A value that follows from all else that its owner holds: it makes no difference to whether two owners are the same.
#[derive(Clone, Debug)]
pub(crate) struct Once<T>(OnceLock<T>);

impl<T> Default for Once<T> {
    fn default() -> Once<T> {
        Once(OnceLock::new())
    }
}

impl<T> Once<T> {
    /// The value, worked out the first time.
    pub(crate) fn get(&self, solve: impl FnOnce() -> T) -> &T {
        self.0.get_or_init(solve)
    }
}

impl<T> PartialEq for Once<T> {
    fn eq(&self, _other: &Once<T>) -> bool {
        true
    }
}

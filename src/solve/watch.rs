//! How long work says where it stands, and hears that it is to end.

/// What the watcher of a search wants next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Control {
    /// Go on.
    Continue,
    /// Stop and keep the best so far.
    Stop,
}

/// Where long work stands, in words fit for a screen.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Standing {
    /// What is being done.
    pub phase: &'static str,
    /// The best answer so far.
    pub best: String,
    /// What no answer can beat, or how far the work is; may be empty.
    pub bound: String,
}

/// Who watches long work.
///
/// `stop` is asked often and must answer at once; `tell` hears of every
/// change and may drop what comes too fast.
pub struct Watch<'a> {
    /// Whether the work is to end with the best so far.
    pub stop: &'a dyn Fn() -> bool,
    /// Hears where the work stands.
    pub tell: &'a mut dyn FnMut(&Standing),
}

//! For how long somebody works: only what lies between two signs of work counts.

/// A pause longer than this counts as one of this length, in milliseconds: a minute. Who looks up a rule is at work, who has
/// gone to dinner is not.
pub const PAUSE: u64 = 60_000;

/// A watch that runs while somebody works.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Watch {
    ms: u64,
    last: Option<u64>,
}

impl Watch {
    /// A watch that goes on from so many milliseconds.
    pub fn from(ms: u64) -> Watch {
        Watch { ms, last: None }
    }

    /// Milliseconds of work so far.
    pub fn ms(&self) -> u64 {
        self.ms
    }

    /// Seconds of work so far.
    pub fn seconds(&self) -> u32 {
        u32::try_from(self.ms / 1000).unwrap_or(u32::MAX)
    }

    /// A sign of work at this moment, in milliseconds by any clock.
    pub fn work(&mut self, at: u64) {
        if let Some(last) = self.last {
            self.ms += at.saturating_sub(last).min(PAUSE);
        }
        self.last = Some(at);
    }

    /// The work is left at this moment: until the next sign of work nothing counts.
    pub fn rest(&mut self, at: u64) {
        if self.last.is_some() {
            self.work(at);
        }
        self.last = None;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_work_counts() {
        let mut watch = Watch::default();
        watch.work(1_000);
        watch.work(4_000);
        assert_eq!((watch.ms(), watch.seconds()), (3_000, 3));
        // Out of sight for an hour.
        watch.rest(5_000);
        watch.work(3_605_000);
        assert_eq!(watch.ms(), 4_000);
        // In sight, and nothing done for an hour.
        watch.work(7_205_000);
        assert_eq!(watch.ms(), 4_000 + PAUSE);
        // A clock that goes back takes nothing away.
        watch.work(1_000);
        assert_eq!(watch.ms(), 4_000 + PAUSE);
        // It goes on after a reload.
        let mut again = Watch::from(watch.ms());
        again.work(10);
        again.work(2_010);
        assert_eq!(again.ms(), 6_000 + PAUSE);
    }
}

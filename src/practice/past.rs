//! What is left of answers long past: which they were, what the scheduler has made of them, and what the figures count. A record
//! of many years stays small by it, and opens as quickly as a short one.
//!
//! It is kept as lines of text, fields parted by tabs, each of a kind that its owner writes and reads: memories
//! ([`super::due`]), what is kept ([`super::kept`]), sums ([`super::sums`]); [`super::compact`] puts answers there.

/// The answers of a record that are no more kept one by one.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Past {
    /// How many answers they are.
    answers: u32,
    /// Of each tab, by the check sum of its name: the events below this number are in the past. In order.
    tabs: Vec<(u32, u64)>,
    /// What is left of them.
    lines: Vec<String>,
}

/// A check sum of a tab's name (FNV-1a).
fn sum(tab: &str) -> u32 {
    tab.bytes().fold(0x811c_9dc5, |sum, byte| (sum ^ u32::from(byte)).wrapping_mul(0x0100_0193))
}

impl Past {
    /// This past with more answers: so many, those of each tab below a number; and what is left of all of them.
    pub(super) fn with(mut self, answers: usize, tabs: &[(String, u64)], lines: Vec<String>) -> Past {
        self.answers = self.answers.saturating_add(u32::try_from(answers).unwrap_or(u32::MAX));
        for (tab, below) in tabs {
            let tab = sum(tab);
            match self.of_tab(tab) {
                Ok(at) => self.tabs[at].1 = self.tabs[at].1.max(*below),
                Err(at) => self.tabs.insert(at, (tab, *below)),
            }
        }
        self.lines = lines;
        self
    }

    fn of_tab(&self, tab: u32) -> Result<usize, usize> {
        self.tabs.binary_search_by_key(&tab, |(known, _)| *known)
    }

    /// How many answers there are in it.
    pub fn answers(&self) -> usize {
        self.answers as usize
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.tabs.is_empty()
    }

    /// The fields of the lines of a kind.
    pub(super) fn of_kind<'a>(&'a self, kind: &'a str) -> impl Iterator<Item = Vec<&'a str>> {
        self.lines.iter().filter_map(move |line| {
            let mut fields = line.split('\t');
            (fields.next() == Some(kind)).then(|| fields.collect())
        })
    }

    /// Whether the event of this number in a tab is in it.
    pub(super) fn holds(&self, tab: &str, n: u64) -> bool {
        !self.tabs.is_empty() && self.of_tab(sum(tab)).is_ok_and(|at| n < self.tabs[at].1)
    }

    /// Whether everything in another past is in this one too.
    fn has_all_of(&self, other: &Past) -> bool {
        other.tabs.iter().all(|(tab, below)| self.of_tab(*tab).is_ok_and(|at| self.tabs[at].1 >= *below))
    }

    /// Takes the other past in the place of this one where it holds as much and more. Two that grew apart cannot be added up: the
    /// one with more answers stays. Gives whether the other's is the one now.
    pub(super) fn grow_to(&mut self, other: &Past) -> bool {
        let grows = !self.has_all_of(other) && (other.has_all_of(self) || other.answers > self.answers);
        if grows {
            self.clone_from(other);
        }
        grows
    }

    /// Its lines as a record holds them, without the word that begins them.
    pub(super) fn to_lines(&self) -> Vec<String> {
        let tabs: Vec<String> = self.tabs.iter().map(|(tab, below)| format!("{tab:x}.{below}")).collect();
        let mut lines = vec![format!("tabs\t{}\t{}", self.answers, tabs.join(" "))];
        lines.extend(self.lines.iter().cloned());
        lines
    }

    /// Takes in one of those lines; `None` when it cannot be read.
    pub(super) fn take_line(&mut self, line: &str) -> Option<()> {
        let Some(tabs) = line.strip_prefix("tabs\t") else {
            let kind = line.split('\t').next()?;
            if !["memory", "kept", "sums", "days", "names", "pairs", "sign", "runs", "low", "asked"]
                .contains(&kind)
            {
                return None;
            }
            self.lines.push(line.to_owned());
            return Some(());
        };
        let (answers, tabs) = tabs.split_once('\t')?;
        self.answers = answers.parse().ok()?;
        let tab = |text: &str| {
            let (tab, below) = text.split_once('.')?;
            Some((u32::from_str_radix(tab, 16).ok()?, below.parse().ok()?))
        };
        self.tabs = tabs.split_whitespace().map(tab).collect::<Option<_>>()?;
        crate::order::sort(&mut self.tabs);
        Some(())
    }
}

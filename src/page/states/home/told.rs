//! What came of opening a file that takes everything home, in sentences.

use super::keys::called;

/// What came of it, by keys.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Told {
    /// Pieces that were not here.
    pub new: Vec<String>,
    /// Pieces that were changed there since they were here, and are taken from there.
    pub later: Vec<String>,
    /// Pieces that were changed here since, and stay.
    pub stays: Vec<String>,
    /// Pieces that were changed in both places: what is here stays, what is in the file is set aside.
    pub differs: Vec<String>,
    /// Pieces of the file that cannot be read in full: what could be is taken in, and the whole is set aside.
    pub unread: Vec<String>,
    /// Pieces that were here and have been put away since: they do not come back by themselves.
    pub put_away: Vec<String>,
    /// Slips, exercises and texts that were not here.
    pub slips: usize,
    /// See [`Told::slips`].
    pub exercises: usize,
    /// See [`Told::slips`].
    pub texts: usize,
    /// Learners on the class sheet whom the teacher has given another name there: the one from here stays.
    pub names: Vec<String>,
    /// Pieces of kinds that this page does not know.
    pub unknown: usize,
}

fn count(of: usize, one: &str, many: &str) -> String {
    if of == 1 { format!("1 {one}") } else { format!("{of} {many}") }
}

impl Told {
    /// What came of it in sentences; `entries` are new in the record.
    pub fn words(&self, entries: usize) -> Vec<String> {
        let mut says = Vec::new();
        let mut new = Vec::new();
        for (of, one, many) in [
            (entries, "entry of the record", "entries of the record"),
            (self.slips, "result slip", "result slips"),
            (self.exercises, "exercise", "exercises"),
            (self.texts, "text of your own", "texts of your own"),
            (self.new.len(), "piece of work or setting", "pieces of work and settings"),
        ] {
            if of > 0 {
                new.push(count(of, one, many));
            }
        }
        if !new.is_empty() {
            says.push(format!("Taken in: {}.", new.join(", ")));
        }
        if !self.later.is_empty() {
            says.push(format!("Continued elsewhere, and taken from the file: {}.", names(&self.later)));
        }
        if !self.stays.is_empty() {
            says.push(format!(
                "Changed here since the file was saved, and left as it is here: {}.",
                names(&self.stays)
            ));
        }
        if !self.names.is_empty() {
            says.push(format!(
                "Names that you gave on the class sheet here are kept: {}.",
                self.names.join(", ")
            ));
        }
        if self.unknown > 0 {
            let of = count(self.unknown, "piece is of a kind", "pieces are of kinds");
            let still = if self.unknown == 1 { "it is" } else { "they are" };
            says.push(format!("{of} that this page does not know; {still} still in your file."));
        }
        if !self.differs.is_empty() {
            says.push(format!(
                "Changed both here and there: what is here stays, and what the file has is set aside: {}.",
                names(&self.differs)
            ));
        }
        if !self.unread.is_empty() {
            says.push(format!(
                "Not all of it can be read here, so what the file has is set aside as well: {}.",
                names(&self.unread)
            ));
        }
        if !self.put_away.is_empty() {
            says.push(format!(
                "Put away here since the file was saved, and not brought back: {}.",
                names(&self.put_away)
            ));
        }
        if says.is_empty() {
            says.push("All of it is here already.".to_owned());
        }
        says
    }
}

/// What pieces are called, each name once with how many there are.
fn names(keys: &[String]) -> String {
    let mut all: Vec<(&str, usize)> = Vec::new();
    for key in keys {
        let name = called(key);
        match all.iter_mut().find(|(known, _)| *known == name) {
            Some((_, times)) => *times += 1,
            None => all.push((name, 1)),
        }
    }
    let one = |(name, times): &(&str, usize)| match times {
        1 => (*name).to_owned(),
        times => format!("{name} ({times})"),
    };
    all.iter().map(one).collect::<Vec<_>>().join("; ")
}

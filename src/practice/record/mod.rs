//! The learner's log: one line an event, each with an id of its own.
//!
//! Each open tab writes a journal of its own; the record is their union, so that two tabs cannot overwrite each
//! other, and merging a file is the same union. Everything else (memories, figures, notes) is worked out from it.
//!
//! A journal is text: a head line `cellwright record 1`, then a line per event, fields parted by tabs:
//! id, time in milliseconds, kind, and the kind's fields. A line that cannot be read is handed back, not dropped.
//! A long record keeps its oldest answers no more one by one ([`super::past`]): its head line says 2, and lines that begin
//! with `past` hold what is left of them.

mod event;
mod journal;

use std::collections::BTreeMap;

use super::past::Past;
use crate::cell::Cell;
use crate::order::{self, Set};

pub use event::{Answer, Direction, Event, Id};
pub use journal::line;

/// The head line of a journal or file.
pub const HEAD: &str = "cellwright record 1";
/// The head line of one with a past.
const HEAD_WITH_PAST: &str = "cellwright record 2";
/// A day, in milliseconds.
const DAY: u64 = 86_400_000;

/// What a line of the past begins with.
const PAST: &str = "past\t";

/// A learner's whole record.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Record {
    /// In order of their ids, each id once.
    pub(in crate::practice) events: Vec<(Id, (u64, Event))>,
    /// What is left of answers long past.
    pub(in crate::practice) past: Past,
}

/// Why a text is not a record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RecordError {
    /// The first line is not a record's.
    NotARecord,
    /// It was written by a later version of the page.
    Later,
}

impl RecordError {
    /// What it means and what to do.
    pub fn words(&self) -> &'static str {
        match self {
            RecordError::NotARecord => {
                "This file is not a record of Cellwright. Choose a file that was saved in the Record room."
            }
            RecordError::Later => {
                "This record was saved by a later version of this page. Open it there, or reload the page."
            }
        }
    }
}

impl Record {
    /// Reads a journal or a saved file; the lines that could not be read come back beside it.
    ///
    /// # Errors
    /// When the text is not a record at all, or one of a later version.
    pub fn parse(text: &str) -> Result<(Record, Vec<String>), RecordError> {
        let mut lines = text.lines();
        let head = lines.next().unwrap_or_default().trim_start_matches('\u{feff}').trim();
        if head != HEAD && head != HEAD_WITH_PAST {
            let later = head
                .strip_prefix("cellwright record ")
                .is_some_and(|v| v.parse::<u32>().is_ok_and(|v| v > 2));
            return Err(if later { RecordError::Later } else { RecordError::NotARecord });
        }
        let (mut events, mut damaged) = (Vec::new(), Vec::new());
        let mut record = Record::default();
        for text in lines.filter(|line| !line.trim().is_empty()) {
            if let Some(()) = text.strip_prefix(PAST).and_then(|line| record.past.take_line(line)) {
                continue;
            }
            match journal::event(text) {
                Some((id, at, event)) => events.push((id, (at, event))),
                None => damaged.push(text.to_owned()),
            }
        }
        record.take_in(events);
        Ok((record, damaged))
    }

    /// The whole record as the text of a file.
    pub fn to_text(&self) -> String {
        let mut out = format!("{}\n", if self.past.is_empty() { HEAD } else { HEAD_WITH_PAST });
        for line in self.past.to_lines().iter().filter(|_| !self.past.is_empty()) {
            out.push_str(&format!("{PAST}{line}\n"));
        }
        for (id, (at, event)) in &self.events {
            out.push_str(&line(id, *at, event));
            out.push('\n');
        }
        out
    }

    /// Adds one event; an event with the same id is left as it was.
    pub fn add(&mut self, id: Id, at: u64, event: Event) {
        if let Err(place) = self.events.binary_search_by(|(known, _)| known.cmp(&id)) {
            self.events.insert(place, (id, (at, event)));
        }
    }

    /// Takes in events; of those with the same id the first, or the one that was here, stays.
    fn take_in(&mut self, mut events: Vec<(Id, (u64, Event))>) {
        self.events.append(&mut events);
        if !self.events.is_sorted_by(|(one, _), (next, _)| one < next) {
            // A stable sort: what was here stands first.
            order::sort_by(&mut self.events, |one, next| one.0.cmp(&next.0));
            self.events.dedup_by(|next, one| next.0 == one.0);
        }
    }

    /// Takes in another record: the union of both. What is in the past of one is not taken once more from the other.
    pub fn merge(&mut self, mut other: Record) {
        if self.past.grow_to(&other.past) {
            let known = |id: &Id| other.events.binary_search_by(|(known, _)| known.cmp(id)).is_ok();
            self.events
                .retain(|(id, (_, event))| known(id) || event.stays() || !self.past.holds(&id.tab, id.n));
        } else if !self.past.is_empty() {
            other = other.without(self);
        }
        self.take_in(other.events);
    }

    /// Takes what claims to have happened more than a day after `now` as of now: a clock that was wrong once would win over
    /// everything later, for ever. Gives whether there was any.
    pub fn until(&mut self, now: u64) -> bool {
        let latest = now.saturating_add(DAY);
        let mut late = false;
        let mut set = |at: &mut u64| {
            if *at > latest {
                *at = now;
                late = true;
            }
        };
        for (_, (at, event)) in &mut self.events {
            set(at);
            match event {
                Event::Answer(answer) => set(&mut answer.at),
                Event::Cause { of, .. } => set(of),
                _ => {}
            }
        }
        late
    }

    /// What this record has and another has not.
    pub fn without(mut self, other: &Record) -> Record {
        let known = |id: &Id| other.events.binary_search_by(|(known, _)| known.cmp(id)).is_ok();
        let past = |id: &Id, event: &Event| !event.stays() && other.past.holds(&id.tab, id.n);
        self.events.retain(|(id, (_, event))| !known(id) && !past(id, event));
        if !other.past.clone().grow_to(&self.past) {
            self.past = Past::default();
        }
        self
    }

    /// The number of events, those of the past counted by their answers.
    pub fn len(&self) -> usize {
        self.events.len() + self.past.answers()
    }

    /// Whether nothing was recorded yet.
    pub fn is_empty(&self) -> bool {
        self.events.is_empty() && self.past.is_empty()
    }

    /// The events in order of time.
    pub fn in_time(&self) -> Vec<(u64, &Event)> {
        let mut all: Vec<(u64, &Id, &Event)> = self.events.iter().map(|(id, (at, e))| (*at, id, e)).collect();
        order::sort_by(&mut all, |a, b| (a.0, a.1).cmp(&(b.0, b.1)));
        all.into_iter().map(|(at, _, event)| (at, event)).collect()
    }

    /// The answers in order of time, each wrong one with the cause that was told of it; without those of the past.
    pub fn answers(&self) -> Vec<Answer> {
        // Several mistakes at one sign may have been recorded together; each cause tells of one of them.
        let mut causes: Vec<(u64, &str, Option<&str>)> = Vec::new();
        let all = self.in_time();
        for (_, event) in &all {
            if let Event::Cause { of, sign, cause } = event {
                causes.push((*of, sign, Some(cause)));
            }
        }
        order::sort_by_key(&mut causes, |(of, sign, _)| (*of, *sign));
        let mut answers = Vec::new();
        for (_, event) in &all {
            let Event::Answer(answer) = event else { continue };
            let about = (answer.at, answer.sign.as_str());
            let end = causes.partition_point(|(of, sign, _)| (*of, *sign) <= about);
            let of_it = causes[..end].iter_mut().rev().take_while(|(of, sign, _)| (*of, *sign) == about);
            let told = of_it.filter(|_| !answer.right).find_map(|(_, _, cause)| cause.take());
            let cause = told.unwrap_or(&answer.cause);
            answers.push(Answer { cause: cause.to_owned(), ..answer.clone() });
        }
        answers
    }

    /// Whether the learner has marked this sign by hand.
    pub fn marked(&self, key: &str) -> bool {
        self.in_time().iter().rev().find_map(|(_, e)| match e {
            Event::Mark { sign, on } if sign == key => Some(*on),
            _ => None,
        }) == Some(true)
    }

    /// All marks that are on, by key.
    pub fn marks(&self) -> Set<String> {
        let mut marks = Set::default();
        for (_, event) in self.in_time() {
            if let Event::Mark { sign, on } = event {
                if *on {
                    marks.insert(sign.clone());
                } else {
                    marks.remove(sign);
                }
            }
        }
        marks
    }

    /// The hard changes of the latest runs, the latest first, without repeats.
    pub fn hard_changes(&self) -> Vec<(Cell, Cell)> {
        let mut found = Vec::new();
        for (_, event) in self.in_time().into_iter().rev() {
            let Event::Run { hard, .. } = event else { continue };
            let cells: Vec<Cell> = hard.chars().filter_map(Cell::from_ascii).collect();
            for pair in cells.chunks_exact(2).map(|pair| (pair[0], pair[1])) {
                if !found.contains(&pair) {
                    found.push(pair);
                }
            }
            if found.len() >= 12 {
                break;
            }
        }
        found
    }

    /// The notes, by sign.
    pub fn notes(&self) -> BTreeMap<String, String> {
        let mut notes = BTreeMap::new();
        for (_, event) in self.in_time() {
            if let Event::Note { sign, text } = event {
                notes.insert(sign.clone(), text.clone());
            }
        }
        notes.retain(|_, text| !text.is_empty());
        notes
    }

    /// The learner's own signs: dot numbers and meaning.
    pub fn own_signs(&self) -> BTreeMap<String, String> {
        let mut own = BTreeMap::new();
        for (_, event) in self.in_time() {
            if let Event::Own { cells, meaning } = event {
                own.insert(cells.clone(), meaning.clone());
            }
        }
        own.retain(|_, meaning| !meaning.is_empty());
        own
    }
}

#[cfg(test)]
mod tests {
    use super::journal::LAST;
    use super::*;

    fn answer(n: u64, tab: &str) -> (Id, u64, Event) {
        let answer = Answer {
            at: 1000 + n,
            sign: "groupsign st".to_owned(),
            direction: Direction::Write,
            right: !n.is_multiple_of(3),
            ms: 900 + n,
            clues: 1,
            instead: "a\tb\\n\nc".to_owned(),
            cause: "eye".to_owned(),
        };
        (Id { tab: tab.to_owned(), n }, 1000 + n, Event::Answer(answer))
    }

    #[test]
    fn two_tabs_lose_nothing_and_a_file_comes_back_the_same() {
        let (mut one, mut two) = (Record::default(), Record::default());
        for n in 0..200 {
            let (id, at, event) = answer(n, if n % 2 == 0 { "a1" } else { "b2" });
            if n % 2 == 0 { one.add(id, at, event) } else { two.add(id, at, event) }
        }
        let (text_one, text_two) = (one.to_text(), two.to_text());
        one.merge(two.clone());
        one.merge(two);
        assert_eq!(one.len(), 200);
        let (mut back, damaged) = Record::parse(&text_one).unwrap();
        back.merge(Record::parse(&text_two).unwrap().0);
        assert_eq!(back, one);
        assert!(damaged.is_empty());
        assert_eq!(Record::parse(&one.to_text()).unwrap().0, one);
    }

    #[test]
    fn a_tab_killed_while_writing_loses_at_most_the_last_line() {
        let mut record = Record::default();
        for n in 0..200 {
            let (id, at, event) = answer(n, "a1");
            record.add(id, at, event);
        }
        let text = record.to_text();
        for cut in (HEAD.len()..text.len()).filter(|cut| text.is_char_boundary(*cut)) {
            let whole = text[..cut].matches('\n').count().saturating_sub(1);
            let (read, damaged) = Record::parse(&text[..cut]).unwrap();
            assert!(read.len() + 1 >= whole && read.len() <= whole + 1);
            assert!(damaged.len() <= 1);
        }
    }

    #[test]
    fn a_cause_told_later_takes_the_place_of_the_one_guessed() {
        let mut record = Record::default();
        for n in [0, 1] {
            let (id, at, event) = answer(n, "a1");
            record.add(id, at, event);
        }
        let told = |of| Event::Cause { of, sign: "groupsign st".to_owned(), cause: "hand".to_owned() };
        // One of a mistake, one of an answer that was right.
        for n in [0, 1] {
            record.add(Id { tab: "a1".to_owned(), n: 5 + n }, 2000, told(1000 + n));
        }
        let causes: Vec<String> = record.answers().into_iter().map(|answer| answer.cause).collect();
        assert_eq!(causes, ["hand", "eye"]);
        assert_eq!(Record::parse(&record.to_text()).unwrap(), (record, Vec::new()));
    }

    #[test]
    fn a_clock_that_was_wrong_does_not_win_for_ever() {
        const NOW: u64 = 1_764_000_000_000;
        const YEAR: u64 = 365 * 86_400_000;
        let note = |n, at, text: &str| {
            let id = Id { tab: "a1".to_owned(), n };
            (id, at, Event::Note { sign: "letter a".to_owned(), text: text.to_owned() })
        };
        let mut record = Record::default();
        for (id, at, event) in [note(0, NOW + YEAR, "ahead"), note(1, NOW - YEAR, "behind")] {
            record.add(id, at, event);
        }
        let (id, _, mut event) = answer(2, "a1");
        if let Event::Answer(answer) = &mut event {
            answer.at = NOW + YEAR;
        }
        record.add(id, NOW + YEAR, event);
        let told = Event::Cause { of: NOW + YEAR, sign: "groupsign st".to_owned(), cause: "hand".to_owned() };
        record.add(Id { tab: "a1".to_owned(), n: 3 }, NOW + YEAR, told);
        assert!(record.until(NOW));
        assert!(!record.until(NOW), "once and for all");
        assert!(record.in_time().iter().all(|(at, _)| *at <= NOW));
        assert_eq!(record.answers()[0].at, NOW);
        // What is noted a moment later wins.
        let (id, at, event) = note(4, NOW + 1, "today");
        record.add(id, at, event);
        assert!(!record.until(NOW + 2));
        assert_eq!(record.notes()["letter a"], "today");
    }

    #[test]
    fn the_same_file_again_has_nothing_new() {
        let (mut here, mut file) = (Record::default(), Record::default());
        for n in 0..20 {
            let (id, at, event) = answer(n, "a1");
            if n < 12 {
                here.add(id.clone(), at, event.clone());
            }
            file.add(id, at, event);
        }
        let news = file.clone().without(&here);
        assert_eq!(news.len(), 8);
        here.merge(news);
        assert_eq!(here, file);
        assert!(file.clone().without(&here).is_empty());
    }

    #[test]
    fn what_is_no_record_is_refused_and_damage_is_handed_back() {
        assert_eq!(Record::parse("hello").unwrap_err(), RecordError::NotARecord);
        assert_eq!(Record::parse("cellwright record 9").unwrap_err(), RecordError::Later);
        let (record, damaged) =
            Record::parse(&format!("{HEAD}\nrubbish\na1-0\t5\tmark\tletter a\ton\n")).unwrap();
        assert!(record.marked("letter a"));
        assert_eq!(damaged, ["rubbish"]);
    }

    #[test]
    fn what_no_calendar_has_is_damage_and_what_cannot_be_counted_stops_at_the_end() {
        let text = format!(
            "{HEAD}\nt-1\t{}\tmark\tletter e\ton\nt-2\t{LAST}\tmark\tletter e\ton\n\
             t-3\t1\ttext\ta\t{most}\t1\t{long}\t0\nt-4\t2\ttext\ta\t{most}\t1\t{long}\t0\n",
            LAST + 1,
            most = u32::MAX,
            long = u64::MAX,
        );
        let (record, damaged) = Record::parse(&text).unwrap();
        assert_eq!((record.len(), damaged.len()), (3, 1));
        let told = crate::practice::figures::of(&record, |at| at / crate::practice::due::DAY);
        assert_eq!(told.read, (u32::MAX, 2, u64::MAX));
        assert_eq!(crate::practice::figures::date(LAST / crate::practice::due::DAY), "9999-12-31");
    }
}

//! The learner's log: one line an event, each with an id of its own.
//!
//! Each open tab writes a journal of its own; the record is their union, so that two tabs cannot overwrite each
//! other, and merging a file is the same union. Everything else (memories, figures, notes) is worked out from it.
//!
//! A journal is text: a head line `cellwright record 1`, then a line per event, fields parted by tabs:
//! id, time in milliseconds, kind, and the kind's fields. A line that cannot be read is handed back, not dropped.

use std::collections::BTreeMap;

use crate::cell::Cell;
use crate::order::{self, Set};

/// The head line of a journal or file.
pub const HEAD: &str = "cellwright record 1";

/// From what to what.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Direction {
    /// From cells to their meaning.
    Read,
    /// From the meaning to cells.
    Write,
    /// From dot numbers to the meaning.
    Numbers,
    /// From the meaning to dot numbers.
    SayNumbers,
    /// From the meaning to the mirrored cell of a slate.
    Slate,
    /// From the mirrored back of a sheet to the meaning.
    Back,
    /// From dot numbers to the cell.
    NumbersCell,
    /// From the cell to its dot numbers.
    CellNumbers,
    /// Whether a word uses the sign, and why.
    Rule,
}

impl Direction {
    /// All of them.
    pub const ALL: [Direction; 9] = [
        Direction::Read,
        Direction::Write,
        Direction::Numbers,
        Direction::SayNumbers,
        Direction::Slate,
        Direction::Back,
        Direction::NumbersCell,
        Direction::CellNumbers,
        Direction::Rule,
    ];

    /// Those in which a sign is asked on its own.
    pub const SIGNS: [Direction; 8] = [
        Direction::Read,
        Direction::Write,
        Direction::Numbers,
        Direction::SayNumbers,
        Direction::NumbersCell,
        Direction::CellNumbers,
        Direction::Slate,
        Direction::Back,
    ];

    /// The word in the log and on the page.
    pub fn name(self) -> &'static str {
        match self {
            Direction::Read => "read",
            Direction::Write => "write",
            Direction::Numbers => "from dot numbers",
            Direction::SayNumbers => "to dot numbers",
            Direction::Slate => "slate",
            Direction::Back => "back of the sheet",
            Direction::NumbersCell => "dot numbers to cell",
            Direction::CellNumbers => "cell to dot numbers",
            Direction::Rule => "rule",
        }
    }

    fn of(name: &str) -> Option<Direction> {
        Direction::ALL.into_iter().find(|direction| direction.name() == name)
    }
}

/// One answer about one sign.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// When, in milliseconds since 1970.
    pub at: u64,
    /// The sign's key.
    pub sign: String,
    /// From what to what.
    pub direction: Direction,
    /// Whether it was right.
    pub right: bool,
    /// Time from the moment the item was on screen, in milliseconds.
    pub ms: u64,
    /// How many clues were asked for.
    pub clues: u8,
    /// What was answered instead: a sign's key, dot numbers or text; empty when right or unknown.
    pub instead: String,
    /// The cause of a wrong answer, "eye", "hand" or "rule"; empty when right or unknown.
    pub cause: String,
}

/// What happened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Event {
    /// An answer.
    Answer(Answer),
    /// What a mistake that is in the log already came from, as the question after it told.
    Cause {
        /// The time of the answer that was wrong.
        of: u64,
        /// The sign's key.
        sign: String,
        /// "eye", "hand" or "rule".
        cause: String,
    },
    /// A sign was marked by hand as learned elsewhere, or the mark was taken off.
    Mark {
        /// The sign's key.
        sign: String,
        /// On or off.
        on: bool,
    },
    /// A note at a sign; an empty text takes it away.
    Note {
        /// The sign's key.
        sign: String,
        /// The note.
        text: String,
    },
    /// A sign of the learner's own that a book defines; an empty meaning takes it away.
    Own {
        /// Its cells, as dot numbers parted by spaces.
        cells: String,
        /// What it means.
        meaning: String,
    },
    /// A text that was read, on the page or on paper.
    Text {
        /// Its title.
        title: String,
        /// Words read.
        words: u32,
        /// Cells read.
        cells: u32,
        /// Time, in milliseconds; 0 when not measured.
        ms: u64,
        /// Words that had to be uncovered or were wrong.
        missed: u32,
    },
    /// A run of chords against the clock.
    Run {
        /// Cells written.
        cells: u32,
        /// Cells written right.
        right: u32,
        /// Time, in milliseconds.
        ms: u64,
        /// The hard changes, cell after cell in braille ASCII, two by two.
        hard: String,
    },
}

/// The id of an event: the tab's name and a number in it. Unique without any talk between tabs.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Id {
    /// The tab's name, letters and digits.
    pub tab: String,
    /// The number in the tab.
    pub n: u64,
}

/// A learner's whole record.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Record {
    /// In order of their ids, each id once.
    events: Vec<(Id, (u64, Event))>,
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

fn escape(text: &str) -> String {
    text.replace('\\', "\\\\").replace('\t', "\\t").replace('\n', "\\n").replace('\r', "")
}

fn unescape(text: &str) -> String {
    let mut out = String::new();
    let mut chars = text.chars();
    while let Some(c) = chars.next() {
        match (c, c == '\\') {
            (_, true) => match chars.next() {
                Some('t') => out.push('\t'),
                Some('n') => out.push('\n'),
                Some(other) => out.push(other),
                None => {}
            },
            (c, false) => out.push(c),
        }
    }
    out
}

/// One event as a line of a journal, without its line end.
pub fn line(id: &Id, at: u64, event: &Event) -> String {
    let head = format!("{}-{}\t{at}", id.tab, id.n);
    match event {
        Event::Answer(a) => format!(
            "{head}\tanswer\t{}\t{}\t{}\t{}\t{}\t{}\t{}",
            escape(&a.sign),
            a.direction.name(),
            if a.right { "right" } else { "wrong" },
            a.ms,
            a.clues,
            escape(&a.instead),
            escape(&a.cause)
        ),
        Event::Cause { of, sign, cause } => {
            format!("{head}\tcause\t{of}\t{}\t{}", escape(sign), escape(cause))
        }
        Event::Mark { sign, on } => {
            format!("{head}\tmark\t{}\t{}", escape(sign), if *on { "on" } else { "off" })
        }
        Event::Note { sign, text } => format!("{head}\tnote\t{}\t{}", escape(sign), escape(text)),
        Event::Own { cells, meaning } => format!("{head}\town\t{}\t{}", escape(cells), escape(meaning)),
        Event::Text { title, words, cells, ms, missed } => {
            format!("{head}\ttext\t{}\t{words}\t{cells}\t{ms}\t{missed}", escape(title))
        }
        Event::Run { cells, right, ms, hard } => {
            format!("{head}\trun\t{cells}\t{right}\t{ms}\t{}", escape(hard))
        }
    }
}

/// The last moment that an event can have: the end of the year 9999, in milliseconds since 1970. What claims to be later
/// is damaged.
const LAST: u64 = 253_402_300_799_999;

fn moment(text: &str) -> Option<u64> {
    text.parse().ok().filter(|at| *at <= LAST)
}

fn event(line: &str) -> Option<(Id, u64, Event)> {
    let fields: Vec<&str> = line.split('\t').collect();
    let (tab, n) = fields.first()?.rsplit_once('-')?;
    if tab.is_empty() || !tab.chars().all(|c| c.is_ascii_alphanumeric()) {
        return None;
    }
    let id = Id { tab: tab.to_owned(), n: n.parse().ok()? };
    let at = moment(fields.get(1)?)?;
    let event = match (*fields.get(2)?, &fields[3..]) {
        ("answer", [sign, direction, right, ms, clues, instead, cause]) => Event::Answer(Answer {
            at,
            sign: unescape(sign),
            direction: Direction::of(direction)?,
            right: match *right {
                "right" => true,
                "wrong" => false,
                _ => return None,
            },
            ms: ms.parse().ok()?,
            clues: clues.parse().ok()?,
            instead: unescape(instead),
            cause: unescape(cause),
        }),
        ("cause", [of, sign, cause]) => {
            Event::Cause { of: moment(of)?, sign: unescape(sign), cause: unescape(cause) }
        }
        ("mark", [sign, on]) => Event::Mark { sign: unescape(sign), on: *on == "on" },
        ("note", [sign, text]) => Event::Note { sign: unescape(sign), text: unescape(text) },
        ("own", [cells, meaning]) => Event::Own { cells: unescape(cells), meaning: unescape(meaning) },
        ("text", [title, words, cells, ms, missed]) => Event::Text {
            title: unescape(title),
            words: words.parse().ok()?,
            cells: cells.parse().ok()?,
            ms: ms.parse().ok()?,
            missed: missed.parse().ok()?,
        },
        ("run", [cells, right, ms, hard]) => Event::Run {
            cells: cells.parse().ok()?,
            right: right.parse().ok()?,
            ms: ms.parse().ok()?,
            hard: unescape(hard),
        },
        _ => return None,
    };
    Some((id, at, event))
}

impl Record {
    /// Reads a journal or a saved file; the lines that could not be read come back beside it.
    ///
    /// # Errors
    /// When the text is not a record at all, or one of a later version.
    pub fn parse(text: &str) -> Result<(Record, Vec<String>), RecordError> {
        let mut lines = text.lines();
        let head = lines.next().unwrap_or_default().trim_start_matches('\u{feff}').trim();
        if head != HEAD {
            let later = head
                .strip_prefix("cellwright record ")
                .is_some_and(|v| v.parse::<u32>().is_ok_and(|v| v > 1));
            return Err(if later { RecordError::Later } else { RecordError::NotARecord });
        }
        let (mut events, mut damaged) = (Vec::new(), Vec::new());
        for text in lines.filter(|line| !line.trim().is_empty()) {
            match event(text) {
                Some((id, at, event)) => events.push((id, (at, event))),
                None => damaged.push(text.to_owned()),
            }
        }
        let mut record = Record::default();
        record.take_in(events);
        Ok((record, damaged))
    }

    /// The whole record as the text of a file.
    pub fn to_text(&self) -> String {
        let mut out = format!("{HEAD}\n");
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

    /// Takes in another record: the union of both.
    pub fn merge(&mut self, other: Record) {
        self.take_in(other.events);
    }

    /// The number of events.
    pub fn len(&self) -> usize {
        self.events.len()
    }

    /// Whether nothing was recorded yet.
    pub fn is_empty(&self) -> bool {
        self.events.is_empty()
    }

    /// The events in order of time.
    pub fn in_time(&self) -> Vec<(u64, &Event)> {
        let mut all: Vec<(u64, &Id, &Event)> = self.events.iter().map(|(id, (at, e))| (*at, id, e)).collect();
        order::sort_by(&mut all, |a, b| (a.0, a.1).cmp(&(b.0, b.1)));
        all.into_iter().map(|(at, _, event)| (at, event)).collect()
    }

    /// The answers in order of time, each wrong one with the cause that was told of it.
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
        let told = crate::practice::figures::of(&record);
        assert_eq!(told.read, (u32::MAX, 2, u64::MAX));
        assert_eq!(crate::practice::figures::date(LAST / crate::practice::due::DAY), "9999-12-31");
    }
}

//! Events as lines of a journal, and back.

use super::event::{Answer, Direction, Event, Id};

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
        Event::Session { minutes } => format!("{head}\tsession\t{minutes}"),
        Event::Run { cells, right, ms, hard } => {
            format!("{head}\trun\t{cells}\t{right}\t{ms}\t{}", escape(hard))
        }
    }
}

/// The last moment that an event can have: the end of the year 9999, in milliseconds since 1970. What claims to be later
/// is damaged.
pub(super) const LAST: u64 = 253_402_300_799_999;

fn moment(text: &str) -> Option<u64> {
    text.parse().ok().filter(|at| *at <= LAST)
}

/// The event that a line of a journal holds; `None` where it cannot be read.
pub(super) fn event(line: &str) -> Option<(Id, u64, Event)> {
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
        ("session", [minutes]) => Event::Session { minutes: minutes.parse().ok()? },
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

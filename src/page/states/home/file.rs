//! The file that takes everything home: a head line, `cellwright home 1`, with a check sum (CRC-32) and the length of the
//! one line under it: JSON, and where that is longer than a file that is opened here may be, the same compressed (RFC 1951), in
//! base64url (RFC 4648 section 5, unpadded) behind a tilde.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fmt;

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use crc::{CRC_32_ISO_HDLC, Crc, NoTable};
use serde::{Deserialize, Serialize};

use super::keys::{self, Way};
use super::{Known, Pieces, remember, sum};
use crate::exercise::{self, Kind, one_line};
use crate::page::states::people;
use crate::practice::record::{Record, RecordError};

/// What the head line begins with.
const HEAD: &str = "cellwright home ";
/// The version that is written.
const VERSION: u32 = 1;

/// Longer JSON is compressed: a file of more than ten million bytes is not opened here.
const LONGEST: usize = 8_000_000;
/// What stands before it then.
const PACKED: char = '~';
/// The most bytes that it may unpack to: more than any browser keeps for a page.
const UNPACKED: usize = 60_000_000;

/// One piece of work in the file.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Piece {
    /// As the browser keeps it.
    pub text: String,
    /// The check sums of what it was before.
    #[serde(default)]
    pub was: Vec<u64>,
}

/// What the file holds.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Home {
    /// The name of the person whose it is; may be empty.
    pub name: String,
    /// The day on which it was saved.
    pub day: String,
    /// The record, as its own file has it.
    pub record: String,
    /// Everything else, by its key.
    pub pieces: BTreeMap<String, Piece>,
}

/// Why a file is refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum HomeError {
    /// It is another file, and perhaps one that another room opens.
    Foreign(Option<&'static str>),
    /// Its end is missing.
    Cut,
    /// Something in it was changed.
    Damaged,
    /// A later version of the page wrote it.
    Newer,
    /// The record in it cannot be read.
    Record(RecordError),
}

impl fmt::Display for HomeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            HomeError::Foreign(None) => {
                "This file was not saved by “Take everything home”. Choose one that was."
            }
            HomeError::Foreign(Some(other)) => other,
            HomeError::Cut => "This file is cut short: its end is missing. Copy it once more from where it was saved.",
            HomeError::Damaged => {
                "This file is damaged: something in it was changed on the way. Copy it once more from where it was saved."
            }
            HomeError::Newer => {
                "This file was saved by a later version of this page. Reload the page to get that version, then open the file again."
            }
            HomeError::Record(_) => {
                "The record in this file cannot be read. Copy the file once more from where it was saved."
            }
        })?;
        f.write_str(" Nothing here was changed.")
    }
}

impl std::error::Error for HomeError {}

impl Home {
    /// Everything that a person has here, and what is remembered of it from now on. What this page does not know goes along too: a
    /// later version may have kept it, and whoever leaves no trace here would lose it.
    pub fn gather(name: &str, day: &str, record: &Record, here: &Pieces, known: &mut Known) -> Home {
        let mut home = Home { name: name.to_owned(), day: day.to_owned(), ..Home::default() };
        home.record = record.to_text();
        for (key, text) in here {
            let of = keys::aside_of(key).unwrap_or(key);
            if keys::way(key) == Some(Way::Record) || keys::way(of) == Some(Way::Stays) {
                continue;
            }
            let now = sum(text);
            let was = known.get(key).map(|was| was.iter().copied().filter(|was| *was != now).collect());
            home.pieces.insert(key.clone(), Piece { text: text.clone(), was: was.unwrap_or_default() });
            remember(known, key, [now]);
        }
        home
    }

    /// Whether there is anything in it.
    pub fn is_empty(&self) -> bool {
        self.pieces.is_empty() && self.record.lines().count() < 2
    }

    /// The file.
    pub fn to_text(&self) -> String {
        let mut body = serde_json::to_string(self).unwrap_or_default();
        if body.len() > LONGEST {
            let packed = miniz_oxide::deflate::compress_to_vec(body.as_bytes(), 6);
            body = format!("{PACKED}{}", URL_SAFE_NO_PAD.encode(packed));
        }
        format!("{HEAD}{VERSION} {:08x} {}\n{body}\n", check_sum(&body), body.len())
    }

    /// The name under which the file is saved.
    pub fn file_name(&self) -> String {
        let name: String = self.name.to_lowercase().chars().filter(char::is_ascii_alphanumeric).collect();
        let between = if name.is_empty() { "" } else { "-" };
        format!("cellwright-home{between}{name}-{}.txt", self.day)
    }

    /// Reads a file.
    ///
    /// # Errors
    /// When it is another, cut short, damaged, or of a later version.
    pub fn from_text(text: &str) -> Result<(Home, Record), HomeError> {
        let text = text.trim_start_matches('\u{feff}');
        let (head, body) = text.split_once('\n').unwrap_or((text, ""));
        let Some(head) = head.trim().strip_prefix(HEAD) else { return Err(foreign(text)) };
        let mut parts = head.split(' ');
        let version = parts.next().and_then(|version| version.parse::<u32>().ok());
        if version.is_some_and(|version| version > VERSION) {
            return Err(HomeError::Newer);
        }
        let told = parts.next().and_then(|sum| u32::from_str_radix(sum, 16).ok());
        let length = parts.next().and_then(|length| length.parse::<usize>().ok());
        let body = body.trim();
        match (version, told, length, parts.next()) {
            (_, Some(_), Some(length), _) if body.len() < length => return Err(HomeError::Cut),
            (Some(VERSION), Some(told), Some(length), None)
                if told == check_sum(body) && length == body.len() => {}
            (_, _, None, _) if body.is_empty() => return Err(HomeError::Cut),
            _ => return Err(HomeError::Damaged),
        }
        let body = unpacked(body).ok_or(HomeError::Damaged)?;
        let mut home: Home = serde_json::from_str(&body).map_err(|_| HomeError::Damaged)?;
        home.name = one_line(&home.name).chars().take(people::NAME).collect();
        home.day = one_line(&home.day).chars().take(10).collect();
        let (record, _) = Record::parse(&home.record).map_err(HomeError::Record)?;
        Ok((home, record))
    }
}

/// The JSON of a body.
fn unpacked(body: &str) -> Option<Cow<'_, str>> {
    let Some(packed) = body.strip_prefix(PACKED) else { return Some(Cow::Borrowed(body)) };
    let packed = URL_SAFE_NO_PAD.decode(packed).ok()?;
    let plain = miniz_oxide::inflate::decompress_to_vec_with_limit(&packed, UNPACKED).ok()?;
    String::from_utf8(plain).ok().map(Cow::Owned)
}

/// A text that is no file of ours: perhaps another room opens it.
fn foreign(text: &str) -> HomeError {
    let other = match Record::parse(text) {
        Ok(_) => Some("This file holds a record alone. Open it further down, under “Load a record”."),
        Err(_) if exercise::in_link(text).is_some_and(|(kind, _)| kind == Kind::Slip) => {
            Some("This file holds result slips. Open it in Set work, on the class sheet.")
        }
        Err(_) if exercise::in_link(text).is_some() => {
            Some("This file holds exercises. Open it in Set work, on your shelf, or on the first screen.")
        }
        Err(_) => None,
    };
    HomeError::Foreign(other)
}

fn check_sum(body: &str) -> u32 {
    Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC).checksum(body.as_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn boundary(text: &str, at: usize) -> usize {
        (0..=at).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0)
    }

    const RECORD: &str = "cellwright record 1\n";

    fn some() -> Home {
        let pieces = [("settings", "{\"version\":1,\"value\":{}}"), ("work.write.00.1", "⠋⠻ é\n")]
            .map(|(key, text)| (key.to_owned(), Piece { text: text.to_owned(), was: vec![7, u64::MAX] }));
        Home { name: "Ida".into(), day: "2026-11-29".into(), record: RECORD.into(), pieces: pieces.into() }
    }

    #[test]
    fn a_file_comes_back_whatever_the_way_does_to_its_line_ends() {
        let text = some().to_text();
        assert_eq!(Home::from_text(&text).unwrap().0, some());
        assert_eq!(
            Home::from_text(&format!("\u{feff}{}\r\n\r\n", text.replace('\n', "\r\n"))).unwrap().0,
            some()
        );
        assert_eq!(some().file_name(), "cellwright-home-ida-2026-11-29.txt");
        assert_eq!(Home { name: "Ида/..".into(), ..some() }.file_name(), "cellwright-home-2026-11-29.txt");
    }

    #[test]
    fn what_is_no_such_file_is_refused_in_words() {
        let text = some().to_text();
        let refused = |text: &str| Home::from_text(text).unwrap_err();
        for cut in [17, 20, 40, text.len() / 2, text.len() - 2] {
            assert_eq!(refused(&text[..boundary(&text, cut)]), HomeError::Cut, "cut at {cut}");
        }
        assert_eq!(refused(&text.replace("Ida", "Idb")), HomeError::Damaged);
        assert_eq!(refused(&text.replace("Ida", "Ida, more")), HomeError::Damaged);
        assert_eq!(refused(&text.replacen("home 1", "home 2", 1)), HomeError::Newer);
        assert_eq!(refused(&text.replacen("home 1", "home x", 1)), HomeError::Damaged);
        assert_eq!(refused(""), HomeError::Foreign(None));
        assert_eq!(refused("Dear all,"), HomeError::Foreign(None));
        assert!(refused(RECORD).to_string().contains("Load a record"));
        assert!(refused("https://a.example/#/r/2-abc").to_string().contains("class sheet"));
        assert!(refused("https://a.example/#/x/2-abc").to_string().contains("on your shelf"));
        let torn = Home { record: "nothing".into(), ..some() }.to_text();
        assert_eq!(refused(&torn), HomeError::Record(RecordError::NotARecord));
        for error in [HomeError::Foreign(None), HomeError::Cut, HomeError::Damaged, HomeError::Newer] {
            assert!(error.to_string().ends_with("Nothing here was changed."));
        }
    }

    #[test]
    fn a_name_in_a_file_is_one_line_and_not_turned() {
        let home =
            Home { name: "I\u{202e}da\n\u{7}Orrin".into(), day: "2026-11-29\u{2066}x".into(), ..some() };
        let (home, _) = Home::from_text(&home.to_text()).unwrap();
        assert_eq!((home.name.as_str(), home.day.as_str()), ("Ida Orrin", "2026-11-29"));
    }

    #[test]
    fn what_belongs_to_the_browser_stays_there() {
        let here: Pieces = [
            ("settings", "a"),
            ("open.write", "b"),
            ("card", "c"),
            ("journal.1", "d"),
            ("desk.aside", "f"),
            ("site.aside", "g"),
        ]
        .map(|(key, text)| (key.to_owned(), text.to_owned()))
        .into();
        let mut known = Known::new();
        let home = Home::gather("", "2026-11-29", &Record::default(), &here, &mut known);
        assert_eq!(home.pieces.keys().collect::<Vec<_>>(), ["desk.aside", "settings"]);
        assert!(
            !home.is_empty()
                && Home::gather("", "", &Record::default(), &Pieces::new(), &mut known).is_empty()
        );
    }

    /// A later version's keys, names too long or with control characters: whatever "Leave no trace" takes away is in the file.
    #[test]
    fn what_this_page_does_not_know_goes_along() {
        let long = format!("work.{}", "x".repeat(300));
        let keys = ["colour", "colour.aside", "work.\u{7}", long.as_str()];
        let here: Pieces = keys.map(|key| (key.to_owned(), "mine".to_owned())).into();
        let home = Home::gather("", "2026-11-29", &Record::default(), &here, &mut Known::new());
        let (read, _) = Home::from_text(&home.to_text()).unwrap();
        for key in keys {
            assert_eq!(read.pieces.get(key).map(|piece| piece.text.as_str()), Some("mine"), "{key:?}");
        }
        assert_eq!(read.pieces.len(), keys.len());
    }

    #[test]
    fn what_is_long_is_packed_and_can_be_opened_again() {
        let text = "⠋⠻⠗⠽ ".repeat(700_000);
        let piece = Piece { text, was: Vec::new() };
        let home = Home { pieces: [("shelf".to_owned(), piece)].into(), ..some() };
        let text = home.to_text();
        assert!(text.len() < crate::manuscript::file::LIMIT, "{}", text.len());
        assert_eq!(Home::from_text(&text).unwrap().0, home);
        // A small file that unpacks to much is stopped.
        let bomb = miniz_oxide::deflate::compress_to_vec(&vec![b' '; UNPACKED + 1], 6);
        let body = format!("{PACKED}{}", URL_SAFE_NO_PAD.encode(bomb));
        let text = format!("{HEAD}1 {:08x} {}\n{body}\n", check_sum(&body), body.len());
        assert_eq!(Home::from_text(&text).unwrap_err(), HomeError::Damaged);
    }

    proptest! {
        #[test]
        fn any_text_is_answered(text in "(cellwright home [0-9]{1,3})?( [0-9a-f]{0,9})?( [0-9]{0,4})?(.|\n){0,80}") {
            let _ = Home::from_text(&text);
        }

        #[test]
        fn any_change_of_a_character_is_noticed(at in 0usize..150, to in "[ -~]") {
            let text = some().to_text();
            let at = boundary(&text, at.min(text.len() - 2));
            let end = at + text[at..].chars().next().unwrap().len_utf8();
            let other = format!("{}{to}{}", &text[..at], &text[end..]);
            // Blanks at the ends are no part of it.
            prop_assume!(other != text);
            prop_assert!(Home::from_text(&other).is_err() || Home::from_text(&other).unwrap().0 == some());
        }
    }
}

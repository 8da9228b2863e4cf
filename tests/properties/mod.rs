//! What must hold for any input: one function for each, used by the property tests and by the fuzz targets.
#![allow(dead_code)]

use cellwright::cell::Cell;
use cellwright::exercise::{self, Exercise, Kind, Slip, proofread};
use cellwright::manuscript::check::{self, Asked, Scope};
use cellwright::manuscript::file::{self, BrailleFile};
use cellwright::manuscript::layout::Manuscript;
use cellwright::manuscript::{Sheet, reflow, work};
use cellwright::marking::{self, Expected};
use cellwright::practice::due::Memories;
use cellwright::practice::{book, choose, figures, record::Record};
use cellwright::ueb::back::LiveReading;
use cellwright::ueb::{self, Options, ReadOptions, Remark, division};

mod made;

/// Any text gives a result: the same cells with and without reasons, every cell with one sign, every character of a
/// text without marks with a sign.
pub fn any_text(text: &str, options: &Options) {
    let explained = ueb::explain(text, options);
    assert_eq!(explained.cells, ueb::transcribe(text, options), "{text:?} {options:?}");
    let length = text.chars().count();
    let mut at = 0;
    let mut seen = vec![options.marks; length];
    for sign in &explained.signs {
        assert_eq!(sign.cells.start, at, "{text:?} {options:?}");
        assert!(sign.print.start <= sign.print.end && sign.print.end <= length, "{text:?} {sign:?}");
        at = sign.cells.end;
        seen[sign.print.clone()].fill(true);
    }
    assert_eq!(at, explained.cells.len(), "{text:?} {options:?}");
    assert!(seen.iter().all(|&seen| seen), "a character without a sign in {text:?}: {seen:?}");
    for passed in &explained.passed_over {
        assert!(passed.print.start <= passed.print.end && passed.print.end <= length, "{text:?} {passed:?}");
    }
}

/// Any cells give a result: pieces that cover every cell once and their print in order, the same print alone; and
/// nothing without a meaning is dropped.
pub fn any_cells(cells: &[Cell], options: &ReadOptions) {
    let reading = ueb::read(cells, options);
    let length = reading.print.chars().count();
    let (mut cell, mut char) = (0, 0);
    for piece in &reading.pieces {
        assert_eq!(piece.cells.start, cell, "{cells:?} {options:?}");
        assert!(piece.cells.end > cell && piece.print.start >= char && piece.print.end >= piece.print.start);
        (cell, char) = (piece.cells.end, piece.print.end);
        let kept = matches!(piece.remark, Remark::Unknown | Remark::Waiting);
        assert!(!kept || piece.print.len() == piece.cells.len(), "{cells:?} {piece:?}");
        assert_eq!(piece.sign.is_some(), piece.remark == Remark::None, "{cells:?} {piece:?}");
    }
    assert_eq!(cell, cells.len());
    assert!(char <= length, "{cells:?} {options:?}");
    assert_eq!(ueb::read_print(cells, options), reading.print, "{cells:?} {options:?}");
}

/// Print with what braille does not tell apart made alike: the style of quotation marks (7.6), the width of dashes
/// (7.2), any kind of space (3.23).
pub fn alike(print: &str) -> String {
    print
        .chars()
        .map(|c| match c {
            '“' | '”' | '"' | '‘' | '’' => '\'',
            '–' | '―' => '—',
            c if c.is_whitespace() => ' ',
            c => c,
        })
        .collect()
}

/// Such text comes back.
pub fn round_trip(text: &str, contracted: bool) {
    let cells = ueb::transcribe(text, &Options { contracted, ..Options::default() });
    let print = ueb::read_print(&cells, &ReadOptions { contracted, ..ReadOptions::default() });
    assert_eq!(alike(&print), alike(text), "{text:?} {cells:?}");
}

/// A live reading says after every change what reading the whole anew says, and tells all that is news.
pub fn live(start: &[Cell], changes: &[(usize, usize, Vec<Cell>)], options: &ReadOptions) {
    let mut live = LiveReading::new(options.clone());
    live.splice(0..0, start);
    let mut cells = start.to_vec();
    for (from, length, with) in changes {
        let before = live.clone();
        let from = from % (cells.len() + 1);
        let to = from + length % (cells.len() - from + 1);
        cells.splice(from..to, with.iter().copied());
        let news = live.splice(from..to, with);
        assert_eq!(live.cells(), &cells[..]);
        let reading = live.reading();
        assert_eq!(reading, ueb::read(&cells, options), "{cells:?} {options:?}");
        assert_eq!(live.print(), reading.print);
        assert_eq!(live.print_of(0..news.start), before.print_of(0..news.start));
        let after = news.end + (to - from) - with.len();
        assert_eq!(live.print_of(news.end..cells.len()), before.print_of(after..before.cells().len()));
        if let Some(waiting) = live.waiting(from + with.len()) {
            assert_eq!(waiting.cells.end, from + with.len());
        }
    }
}

/// Links, slips, records and braille files from outside: an error or a result, and a result is kept whole.
pub fn outside(bytes: &[u8]) {
    let opened = BrailleFile::open(bytes);
    let Ok(text) = file::text(bytes) else {
        assert!(opened.is_err());
        return;
    };
    let opened = opened.expect("text opens");
    assert_eq!(BrailleFile::from_text(&opened.to_text()), opened, "{text:?}");
    opened.cells();
    if let Ok(exercise) = Exercise::from_payload(&text) {
        let again = exercise.to_payload().expect("what a link held fits in one");
        assert_eq!(Exercise::from_payload(&again).expect("our own link opens"), exercise);
        set(&exercise);
    }
    if let Ok(slip) = Slip::from_payload(&text) {
        let again = slip.to_payload().expect("what a link held fits in one");
        assert_eq!(Slip::from_payload(&again).expect("our own link opens"), slip);
        handed_in(&slip);
    }
    exercise::in_link(&text);
    if let Ok((record, _)) = Record::parse(&text) {
        let (again, left_out) = Record::parse(&record.to_text()).expect("our own record opens");
        assert_eq!(again.to_text(), record.to_text());
        assert!(left_out.is_empty(), "{left_out:?}");
        tells(&record);
    }
    for brf in [false, true] {
        if let book::Book::Braille(sheets) = book::open(&text, brf, 25) {
            for page in 0..=sheets.count() {
                sheets.page(page);
            }
        }
    }
}

/// What the rooms ask of an exercise that was opened.
fn set(exercise: &Exercise) {
    assert!(exercise.list().len() <= usize::from(exercise::ITEMS).max(exercise.text.len()));
    exercise.prompt();
    let plants = exercise.plants.clone().unwrap_or_default();
    let proof = proofread::proof(&exercise.text, exercise.contracted, &plants);
    assert!(proof.score(&[]).missed.len() == proof.planted.len());
}

/// What the slip's room asks of a slip that was opened.
fn handed_in(slip: &Slip) {
    let calls = proofread::calls_of_text(&slip.work);
    if let Some((proof, _)) = slip.proof() {
        let score = proof.score(&calls);
        assert!(score.found <= proof.planted.len() && score.missed.len() <= proof.planted.len());
    }
    let anew = slip.all_marked_anew();
    assert_eq!(anew.len(), slip.tries().len());
    assert!(
        anew.iter().flatten().all(|anew| anew.right <= anew.asked && anew.left <= anew.asked),
        "{slip:?}"
    );
    assert!(
        exercise::told::rows(slip, &anew).iter().all(|(name, says)| !name.is_empty() && !says.is_empty())
    );
    slip.parts.iter().for_each(handed_in);
    let pages = BrailleFile::from_text(&slip.work).cells();
    let Some(set) = &slip.set else { return };
    work::mark(&set.text, &pages, set.sheet()).on_lines(set.sheet());
}

/// What the rooms ask of a record that was read.
fn tells(record: &Record) {
    let memories = Memories::of(record);
    let now = 1_764_000_000_000;
    for (sign, direction) in memories.due(now) {
        let recall = memories.get(sign, *direction).expect("a memory that is due").recall(now);
        assert!((0.0..=1.0).contains(&recall), "{sign}: {recall}");
    }
    memories.keeps_pace(now);
    choose::current_unit(&memories, record);
    choose::confusions(record);
    let told = figures::of(record, |at| at / 86_400_000);
    assert!((0.0..=1.0).contains(&told.accuracy));
    assert!(told.days.iter().all(|(day, _, _)| !figures::date(*day).is_empty()), "{:?}", told.days);
    figures::per_sign(record);
    figures::low_shape_help(record);
    (_, _, _, _) = (record.marks(), record.notes(), record.own_signs(), record.hard_changes());
}

/// The same for contents that an exercise's link carries: sealed, they open without a panic, or an error says why.
pub fn exercises(bytes: &[u8]) {
    let contents = made::exercise(&mut made::Draw(bytes));
    if let Ok(payload) = exercise::envelope::seal(Kind::Exercise, &contents) {
        outside(payload.as_bytes());
    }
}

/// The same for a result slip's.
pub fn slips(bytes: &[u8]) {
    let contents = made::slip(&mut made::Draw(bytes));
    if let Ok(payload) = exercise::envelope::seal(Kind::Slip, &contents) {
        outside(payload.as_bytes());
    }
}

/// The same for a record's lines.
pub fn records(bytes: &[u8]) {
    outside(made::record(&mut made::Draw(bytes)).as_bytes());
}

/// Any cells are marked against any print: every finding lies within both, and what was asked for is all right.
pub fn marked(print: &str, written: &[Vec<Cell>], options: &Options) {
    let expected = Expected::from_print(print, options);
    let marked = marking::mark(&expected, written);
    for finding in &marked.findings {
        let place = &finding.written;
        assert!(place.line < written.len().max(1), "{print:?} {written:?} {finding:?}");
        // The line end may belong to it.
        let line = written.get(place.line).map_or(0, Vec::len) + 1;
        assert!(place.from <= place.to && place.to <= line, "{print:?} {written:?} {finding:?}");
    }
    // A line of known characters, written as it is asked for, is right.
    let line = print.chars().all(|c| c == ' ' || !c.is_whitespace() && !c.is_control());
    if line && ueb::explain(print, options).unhandled.is_empty() {
        let right = marking::mark(&expected, std::slice::from_ref(&expected.cells));
        assert!(right.findings.is_empty(), "{print:?} {options:?} {:?}", right.findings);
    }
    // And anything is right when it is its own key.
    let own = marking::mark(&Expected::from_key(written, options.contracted), written);
    assert!(own.findings.is_empty(), "{written:?} {options:?} {:?}", own.findings);
}

/// The pages of a manuscript keep to its sheet, and every line of them is told by its rows.
fn keeps_to_its_sheet(manuscript: &Manuscript) {
    let sheet = manuscript.sheet();
    for page in manuscript.lines() {
        assert!(page.len() <= sheet.lines, "{} lines on {sheet:?}", page.len());
        assert!(page.iter().all(|line| line.len() <= sheet.cells), "{page:?} on {sheet:?}");
    }
    assert!(manuscript.pages().iter().all(|page| page.rows.len() >= page.lines.len()));
}

/// Any print is laid out on any sheet: the pages keep to it, and laid out anew from the braille on the same sheet or another
/// they keep to that.
pub fn laid_out(print: &str, sheet: Sheet, other: Sheet) {
    let manuscript = Manuscript::from_print(print, sheet);
    keeps_to_its_sheet(&manuscript);
    reflowed(&manuscript.lines(), manuscript.sheet(), other);
}

/// Any pages are laid out anew.
pub fn reflowed(pages: &[Vec<Vec<Cell>>], old: Sheet, sheet: Sheet) {
    keeps_to_its_sheet(&reflow::anew(pages, old.bounded(), sheet));
}

/// Any word is divided within itself, each half with cells of its own.
pub fn divided(print: &str) {
    let length = print.chars().count();
    let mut last = 0;
    for division in division::divisions(print) {
        assert!(last <= division.at && division.at <= length, "{print:?} {division:?}");
        assert!(!division.first.is_empty() && !division.second.is_empty(), "{print:?} {division:?}");
        last = division.at;
    }
    for at in [0, 1, length / 2, length] {
        assert!(division::halves(print, at).is_none_or(|halves| halves.at == at), "{print:?} {at}");
    }
}

/// Any file is checked: every rule is told, and every place lies within the file.
pub fn checked(text: &str, print: Option<&str>, volume: bool, sheet: Sheet) {
    let file = BrailleFile::from_text(text);
    let pages: Vec<usize> = file.pages().map(<[String]>::len).collect();
    let scope = if volume { Scope::Volume } else { Scope::Piece };
    let asked = Asked { scope, sheet: sheet.bounded(), print, ..Asked::default() };
    for item in check::check(&file, &asked) {
        let page = item.page.map_or(1, |page| page);
        assert!((1..=pages.len().max(1)).contains(&page), "{text:?} {item:?}");
        assert!(item.line.is_none_or(|line| line >= 1), "{text:?} {item:?}");
        assert!(!item.rule.is_empty() && !item.say.is_empty(), "{item:?}");
    }
}

/// A sheet made of any bytes, wide enough for a print page's number of eight characters, which is never broken.
pub fn sheet(bytes: [u8; 3]) -> Sheet {
    let [cells, lines, how] = bytes;
    let (cells, lines) = (24 + usize::from(cells % 37), 5 + usize::from(lines % 36));
    Sheet {
        cells,
        lines,
        contracted: how & 1 == 0,
        numbered: how & 2 == 0,
        divide: how & 4 == 0,
        ..Sheet::default()
    }
}

/// Words, numbers and punctuation as prose has them, made of any bytes: those from 224 up end a word.
pub fn prose(bytes: &[u8]) -> String {
    let letters = |bytes: &[u8]| -> String { bytes.iter().map(|b| char::from(b'a' + b % 26)).collect() };
    let mut text = String::new();
    for word in bytes.split(|&b| b >= 224) {
        let [kind, stop, rest @ ..] = word else { continue };
        if rest.is_empty() {
            continue;
        }
        let middle = rest.len().div_ceil(2);
        let spelt = letters(rest);
        let said = match kind % 8 {
            0 => rest.iter().map(|b| char::from(b'0' + b % 10)).collect(),
            1 => spelt.to_uppercase(),
            2 => spelt[..1].to_uppercase() + &spelt[1..],
            3 if rest.len() > 1 => format!("{}-{}", &spelt[..middle], &spelt[middle..]),
            4 if rest.len() > 1 => format!("{}'{}", &spelt[..middle], &spelt[middle..]),
            _ => spelt,
        };
        let stop =
            [",", ";", ":", ".", "!", "?", "...", "", "", "", "", "", "", "", "", ""][usize::from(stop % 16)];
        let (open, close) = [("(", ")"), ("“", "”"), ("[", "]"), ("", "")][usize::from(kind / 8 % 8).min(3)];
        text.extend([open, &said, stop, close, if kind / 64 == 3 { " — " } else { " " }]);
    }
    text
}

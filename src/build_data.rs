//! The forms of the data files: a row that cannot be what it should is refused when the project is built, by file and line,
//! so that no reader has to pass over one in silence.

use std::collections::HashSet;
use std::fmt;
use std::path::{Path, PathBuf};

/// Why a data file is refused.
#[derive(Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The file, by its path or name.
    pub file: String,
    /// The line, from 1.
    pub line: usize,
    /// What is wrong with it.
    pub why: String,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}, line {}: {}", self.file, self.line, self.why)
    }
}

/// What a row's form says of it.
type Told = Result<(), String>;

/// How a file is written.
enum Form {
    /// Rows of so many fields, with a tab between; a line that begins with `# ` is a note.
    Rows(usize, fn(&[&str], &mut Seen) -> Told),
    /// Lines; one that begins with `#` is a note.
    Lines(fn(&str, &mut Seen) -> Told),
}

/// What the rows before hold that this one may depend on.
#[derive(Default)]
struct Seen {
    /// The keys of the register of signs.
    signs: HashSet<String>,
    /// The names of the file's own.
    own: HashSet<String>,
    /// The heads of the entry that the line belongs to.
    heads: HashSet<String>,
}

/// The data files, by the end of their path, with their forms.
const FILES: &[(&str, Form)] = &[
    ("ueb/signs.tsv", Form::Rows(7, sign)),
    ("older.tsv", Form::Rows(4, older)),
    ("rules.tsv", Form::Rows(2, rule)),
    ("counts.tsv", Form::Rows(2, count)),
    ("left_out.tsv", Form::Rows(2, left_out)),
    ("prompts.tsv", Form::Rows(2, |row, _| filled(row))),
    ("units.txt", Form::Lines(unit)),
    ("lessons.txt", Form::Lines(lesson)),
    ("clauses.tsv", Form::Rows(4, clause)),
    ("parts.txt", Form::Lines(parts)),
    ("shortforms.txt", Form::Rows(2, shortform)),
    ("lexicon.txt", Form::Rows(2, seam)),
    ("exceptions.txt", Form::Rows(2, seam)),
    ("by_rule.tsv", Form::Rows(3, |row, _| all([one_word(row[0]), braille(row[1]), section(row[2])]))),
    ("acronyms.txt", Form::Rows(3, acronym)),
    ("syllables.txt", Form::Lines(syllables)),
    ("words.txt", Form::Lines(|line, seen| all([small(line, "-'"), new(line, seen)]))),
    ("often.txt", Form::Lines(|line, seen| all([small(line, "-'"), new(line, seen)]))),
    ("frames.txt", Form::Lines(frame)),
    ("data/signs.tsv", Form::Rows(5, |row, _| braille(row[0]))),
    ("data/examples.tsv", Form::Rows(5, example)),
    ("data/examples-marked.tsv", Form::Rows(5, example)),
    (
        "data/wordlist.tsv",
        Form::Rows(3, |row, _| all([filled(&row[..1]), braille(row[1]), filled(&row[2..])])),
    ),
    ("data/by-rule.tsv", Form::Rows(3, |row, _| all([section(row[0]), filled(row), braille(row[2])]))),
    (
        "data/divided.tsv",
        Form::Rows(5, |row, _| {
            all([
                section(row[0]),
                filled(row),
                braille(row[2]),
                braille(row[3]),
                listed(row[4], &["right", "wrong", "call"], "verdict"),
            ])
        }),
    ),
    ("data/readings.tsv", Form::Rows(0, reading)),
    (
        "data/clause-places.tsv",
        Form::Rows(3, |row, seen| all([section(row[0]), new(row[0], seen), filled(row)])),
    ),
    ("data/links-1.tsv", Form::Rows(2, |row, _| filled(row))),
    ("data/record-1-due.tsv", Form::Rows(4, |row, _| all([filled(row), number(row[2])]))),
    ("passages.txt", Form::Lines(passage)),
];

/// Checks the data files below these folders; gives their paths.
///
/// # Errors
/// A [`Refusal`] for the first row that is not of its file's form.
pub fn check_all(folders: &[&Path]) -> Result<Vec<PathBuf>, Refusal> {
    let mut found = Vec::new();
    let mut todo: Vec<PathBuf> = folders.iter().map(|folder| (*folder).to_owned()).collect();
    while let Some(path) = todo.pop() {
        if path.is_dir() {
            let entries = std::fs::read_dir(&path).into_iter().flatten().flatten();
            todo.extend(entries.map(|entry| entry.path()));
        } else if FILES.iter().any(|(name, _)| path.ends_with(name)) {
            found.push(path);
        }
    }
    found.sort();
    let read = |path: &Path| {
        std::fs::read_to_string(path).map_err(|error| Refusal {
            file: path.display().to_string(),
            line: 1,
            why: error.to_string(),
        })
    };
    let register = found.iter().find(|path| path.ends_with("ueb/signs.tsv"));
    let register = register.map(|path| read(path)).transpose()?.unwrap_or_default();
    for path in &found {
        check(&path.display().to_string(), &read(path)?, &register)?;
    }
    Ok(found)
}

/// Checks the text of a data file, with the register of signs.
///
/// # Errors
/// A [`Refusal`] for the first row that is not of the file's form.
pub fn check(file: &str, text: &str, register: &str) -> Result<(), Refusal> {
    let Some((_, form)) = FILES.iter().find(|(name, _)| Path::new(file).ends_with(name)) else {
        return Ok(());
    };
    let refuse = |line: usize, why: String| Refusal { file: file.to_owned(), line, why };
    let mut seen = Seen::default();
    if !file.ends_with("ueb/signs.tsv") {
        seen.signs
            .extend(register.lines().filter_map(|line| line.split_once('\t')).map(|row| row.0.to_owned()));
    }
    match form {
        Form::Rows(fields, is_right) => {
            let mut rows = csv::ReaderBuilder::new();
            rows.delimiter(b'\t').quoting(false).has_headers(false).flexible(true);
            for row in rows.from_reader(text.as_bytes()).records() {
                let row = row.map_err(|error| refuse(1, error.to_string()))?;
                let line = row.position().map_or(1, |place| place.line() as usize);
                let row: Vec<&str> = row.iter().collect();
                if row[0].starts_with("# ") || row == ["#"] {
                    continue;
                }
                if *fields > 0
                    && row.len() != *fields
                    && !(file.ends_with("shortforms.txt") && row.len() == 1)
                {
                    return Err(refuse(line, format!("{} fields, not {fields}", row.len())));
                }
                is_right(&row, &mut seen).map_err(|why| refuse(line, why))?;
            }
        }
        Form::Lines(is_right) => {
            let note = |line: &str| line.trim().is_empty() || line.starts_with('#');
            for (at, line) in text.lines().enumerate().filter(|(_, line)| !note(line)) {
                is_right(line, &mut seen).map_err(|why| refuse(at + 1, why))?;
            }
        }
    }
    Ok(())
}

fn all<const N: usize>(told: [Told; N]) -> Told {
    told.into_iter().collect()
}

fn ensure(right: bool, why: impl FnOnce() -> String) -> Told {
    if right { Ok(()) } else { Err(why()) }
}

fn filled(row: &[&str]) -> Told {
    let empty = row.iter().position(|field| field.trim().is_empty());
    ensure(empty.is_none(), || format!("field {} of these is empty: {row:?}", empty.unwrap_or(0) + 1))
}

fn one_word(word: &str) -> Told {
    ensure(!word.is_empty() && !word.contains(char::is_whitespace), || format!("'{word}' is not one word"))
}

/// Small letters, and what else stands in `more`.
fn small(word: &str, more: &str) -> Told {
    let right = |c: char| c.is_ascii_lowercase() || more.contains(c);
    ensure(!word.is_empty() && word.chars().all(right), || format!("'{word}' is not of small letters"))
}

/// Braille ASCII.
fn braille(cells: &str) -> Told {
    let right = |c: char| (' '..='~').contains(&c) && !c.is_ascii_uppercase();
    ensure(!cells.is_empty() && cells.chars().all(right), || format!("'{cells}' is not braille ASCII"))
}

fn number(text: &str) -> Told {
    ensure(text.parse::<u64>().is_ok(), || format!("'{text}' is no number"))
}

/// A section of the standard, "10.4.1".
fn section(text: &str) -> Told {
    let right = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let known = text == "technical" || text.split('.').all(right);
    ensure(known, || format!("'{text}' is no section"))
}

fn listed(name: &str, list: &[&str], what: &str) -> Told {
    ensure(list.contains(&name), || format!("'{name}' is no {what}: {}", list.join(", ")))
}

/// Not there twice.
fn new(name: &str, seen: &mut Seen) -> Told {
    ensure(seen.own.insert(name.to_owned()), || format!("'{name}' stands there twice"))
}

fn known_sign(key: &str, seen: &Seen) -> Told {
    ensure(seen.signs.contains(key), || format!("no sign has the key '{key}'"))
}

fn sign(row: &[&str], seen: &mut Seen) -> Told {
    const CLASSES: [&str; 19] = [
        "space",
        "letter",
        "digit",
        "greek",
        "modifier",
        "punctuation",
        "symbol",
        "indicator",
        "terminator",
        "alphabetic-wordsign",
        "strong-wordsign",
        "strong-contraction",
        "strong-groupsign",
        "lower-wordsign",
        "lower-groupsign",
        "initial-letter-contraction",
        "final-letter-groupsign",
        "shortform",
        "technical",
    ];
    all([
        filled(&[row[0], row[6]]),
        new(row[0], seen),
        braille(row[1]),
        listed(row[4], &CLASSES, "class of signs"),
        section(row[5]),
    ])
}

fn older(row: &[&str], _: &mut Seen) -> Told {
    const PLACES: [&str; 11] =
        ["whole", "start", "inside", "after", "begin", "number", "open", "close", "figure", "figures", "any"];
    let said = if row[3] == "from memory" { Ok(()) } else { section(row[3]) };
    all([braille(row[0]), filled(&row[1..2]), listed(row[2], &PLACES, "place"), said])
}

fn rule(row: &[&str], seen: &mut Seen) -> Told {
    let sentence = ensure(row[1].ends_with('.'), || format!("'{}' is no sentence", row[1]));
    all([section(row[0]), new(row[0], seen), sentence])
}

fn count(row: &[&str], seen: &mut Seen) -> Told {
    all([known_sign(row[0], seen), new(row[0], seen), number(row[1])])
}

fn left_out(row: &[&str], seen: &mut Seen) -> Told {
    all([known_sign(row[0], seen), new(row[0], seen), filled(&row[1..])])
}

/// A line of the course: "head: text".
fn unit(line: &str, seen: &mut Seen) -> Told {
    const HEADS: [&str; 8] =
        ["unit", "title", "builds on", "sections", "signs", "about", "examples", "braille"];
    let (head, text) = line.split_once(':').ok_or_else(|| format!("'{line}' has no head"))?;
    let text = text.trim();
    listed(head, &HEADS, "head of the course's units")?;
    if head == "unit" {
        seen.heads.clear();
        return all([small(text, "-0123456789"), new(text, seen)]);
    }
    ensure(!seen.own.is_empty(), || "no unit has begun".to_owned())?;
    ensure(seen.heads.insert(head.to_owned()), || format!("the unit has '{head}' twice"))?;
    for item in text.split(" | ").filter(|item| !item.is_empty()) {
        match head {
            "signs" => known_sign(item, seen)?,
            "sections" => section(item)?,
            "builds on" => ensure(seen.own.contains(item), || format!("no unit before is '{item}'"))?,
            "braille" => braille(item)?,
            _ => {}
        }
    }
    ensure(["signs", "builds on"].contains(&head) || !text.is_empty(), || format!("'{head}' says nothing"))
}

/// A line of a lesson: a unit, a rule with its section, or print with what to see in it.
fn lesson(line: &str, seen: &mut Seen) -> Told {
    let (head, text) = line.split_once(": ").ok_or_else(|| format!("'{line}' has no head"))?;
    listed(head, &["lesson", "rule", "show", "not"], "head of the lessons")?;
    if head == "lesson" {
        return all([small(text, "-0123456789"), new(text, seen)]);
    }
    ensure(!seen.own.is_empty(), || "no lesson has begun".to_owned())?;
    let (first, rest) = text.split_once(" | ").ok_or_else(|| format!("'{text}' has no ' | '"))?;
    filled(&[first, rest])?;
    if head == "rule" { section(first) } else { Ok(()) }
}

/// A clause that is practised: its section, the id of a unit, how it is asked, print that turns on it.
fn clause(row: &[&str], seen: &mut Seen) -> Told {
    all([
        section(row[0]),
        new(row[0], seen),
        small(row[1], "-0123456789"),
        listed(row[2], &["apart", "written"], "way to ask a clause"),
    ])
}

/// A line of the parts of compounds: a head or words.
fn parts(line: &str, seen: &mut Seen) -> Told {
    if line.starts_with('[') {
        seen.heads.insert(line.to_owned());
        return listed(line, &["[first]", "[second]", "[form]"], "head of the parts");
    }
    ensure(!seen.heads.is_empty(), || "no head stands above it".to_owned())?;
    line.split(' ').try_for_each(|word| small(word, ""))
}

fn shortform(row: &[&str], seen: &mut Seen) -> Told {
    all([known_sign(&format!("shortform {}", row[0]), seen), new(row[0], seen)])?;
    let Some(words) = row.get(1) else { return Ok(()) };
    words.split(' ').try_for_each(|word| {
        all([
            small(word, "'-"),
            ensure(word.contains(row[0]), || format!("'{word}' does not hold '{}'", row[0])),
        ])
    })
}

fn seam(row: &[&str], seen: &mut Seen) -> Told {
    const REASONS: [&str; 8] =
        ["compound", "aspirated", "prefix", "suffix", "said", "meaning", "whole", "form"];
    let marked = ensure(row[0].contains(['|', '~']), || format!("'{}' has no mark", row[0]));
    all([small(row[0], "|~"), marked, new(row[0], seen), listed(row[1], &REASONS, "reason")])
}

fn acronym(row: &[&str], seen: &mut Seen) -> Told {
    all([
        small(row[0], ""),
        new(row[0], seen),
        listed(row[1], &["", "word"], "mark of a word"),
        filled(&row[2..]),
    ])
}

fn syllables(line: &str, seen: &mut Seen) -> Told {
    all([small(line, "+'"), new(line, seen)])
}

fn example(row: &[&str], _: &mut Seen) -> Told {
    all([section(row[0]), filled(&[row[1], row[3]]), braille(row[2])])
}

fn reading(row: &[&str], _: &mut Seen) -> Told {
    ensure((3..=5).contains(&row.len()), || format!("{} fields, not three to five", row.len()))?;
    let field = |at: usize| row.get(at).copied().unwrap_or_default();
    all([
        filled(&row[..2]),
        braille(row[2]),
        listed(field(3), &["", "marks"], "kind of print"),
        listed(field(4), &["", "one-way"], "way back"),
    ])
}

/// A list of words for a slot, or a sentence with slots.
fn frame(line: &str, seen: &mut Seen) -> Told {
    if let Some((slot, words)) = line.split_once(" = ") {
        return all([small(slot, ""), new(slot, seen), filled(&words.split(" | ").collect::<Vec<_>>())]);
    }
    for part in line.split('{').skip(1) {
        let slot = part.split_once('}').ok_or_else(|| format!("'{line}': a slot does not end"))?.0;
        ensure(seen.own.contains(slot), || format!("there are no words for '{slot}'"))?;
    }
    let words = line.split(' ').all(|word| !word.is_empty() && !word.contains(char::is_control));
    ensure(words && line.contains(' '), || format!("'{line}' is no line of words"))
}

/// The head of a text; its lines are print.
fn passage(line: &str, _: &mut Seen) -> Told {
    let Some(head) = line.strip_prefix("==") else { return Ok(()) };
    let parts: Vec<&str> = head.strip_prefix(' ').unwrap_or_default().split(" | ").collect();
    let [title, kind, unit] = parts[..] else {
        return Err(format!("'{line}' is no head: == title | contracted or uncontracted | unit"));
    };
    all([
        filled(&[title]),
        listed(kind, &["contracted", "uncontracted"], "kind of braille"),
        small(unit.trim(), "-0123456789"),
    ])
}

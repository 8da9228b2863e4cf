//! What the terminal commands share: text in, lines out, JSON, and words to the person.

use cellwright::ueb::Edition;
use std::ffi::OsStr;
use std::io::{self, BufRead, BufWriter, Read, Write};

use cellwright::manuscript::file;
use serde::Serialize;

use super::Failure;
use super::notation::Notation;

/// The longest line and the longest text that is taken, in bytes: what the reasons for its signs take in memory stays below
/// a gigabyte.
pub const LIMIT: usize = file::LIMIT;

/// The notation of that name.
pub fn notation(name: &str) -> Result<Notation, Failure> {
    Notation::named(name)
        .ok_or_else(|| Failure::Usage(format!("there is no notation '{name}': ascii, unicode or dots")))
}

/// The edition of that year.
pub fn edition(year: &str) -> Result<Edition, Failure> {
    Edition::of_year(year)
        .ok_or_else(|| Failure::Usage(format!("there is no edition of {year}: 2013 or 2024")))
}

/// Writes a text to standard output.
pub fn print(text: &str) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes())?;
    Ok(out.flush()?)
}

/// Says something to the person on standard error, as one line. What stands in it may come from anywhere, and a terminal
/// obeys control characters: they are written out.
pub fn say(words: &str) -> Result<(), Failure> {
    Ok(writeln!(io::stderr().lock(), "cellwright: {}", plain(words))?)
}

/// The text with its control characters, and those that turn the direction of writing, written out.
pub fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if obeyed(c) { out.extend(c.escape_default()) } else { out.push(c) }
    }
    out
}

/// Whether a terminal may obey the character in place of showing it (Unicode categories Cc and Bidi_Control, and the line
/// and paragraph separators).
fn obeyed(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// JSON on one line, in which nothing stands raw that a terminal obeys.
struct OneLine;

impl serde_json::ser::Formatter for OneLine {
    fn write_string_fragment<W: ?Sized + Write>(&mut self, out: &mut W, fragment: &str) -> io::Result<()> {
        let mut rest = fragment;
        while let Some((at, c)) = rest.char_indices().find(|(_, c)| obeyed(*c)) {
            out.write_all(&rest.as_bytes()[..at])?;
            // All of these stand in the first plane.
            write!(out, "\\u{:04x}", u32::from(c))?;
            rest = &rest[at + c.len_utf8()..];
        }
        out.write_all(rest.as_bytes())
    }
}

/// Writes a value as a line of JSON.
pub fn json(out: &mut dyn Write, value: &impl Serialize) -> Result<(), Failure> {
    value.serialize(&mut serde_json::Serializer::with_formatter(&mut *out, OneLine)).map_err(|error| {
        match error.io_error_kind() {
            Some(kind) => io::Error::from(kind).into(),
            None => Failure::Outside(error.to_string()),
        }
    })?;
    Ok(out.write_all(b"\n")?)
}

/// Writes a value as a line of JSON to standard output.
pub fn print_json(value: &impl Serialize) -> Result<(), Failure> {
    let mut out = BufWriter::new(io::stdout().lock());
    json(&mut out, value)?;
    Ok(out.flush()?)
}

/// Gives every line of standard input, without its end and numbered from 1, to `work`, which writes its own line. A
/// byte-order mark at the beginning is no text.
pub fn each_line(
    mut work: impl FnMut(usize, &str, &mut dyn Write) -> Result<(), Failure>,
) -> Result<(), Failure> {
    let mut out = BufWriter::new(io::stdout().lock());
    let mut input = io::stdin().lock();
    let mut bytes = Vec::new();
    let mut number = 0;
    loop {
        bytes.clear();
        if (&mut input).take(LIMIT as u64 + 2).read_until(b'\n', &mut bytes)? == 0 {
            break;
        }
        number += 1;
        let line = bytes.strip_suffix(b"\n").unwrap_or(&bytes);
        let line = line.strip_suffix(b"\r").unwrap_or(line);
        if line.len() > LIMIT {
            out.flush()?;
            return Err(Failure::Outside(format!(
                "line {number} is longer than {} MB: end it where the text allows, and try again",
                LIMIT / 1_000_000
            )));
        }
        let line = match number {
            1 => line.strip_prefix("\u{feff}".as_bytes()).unwrap_or(line),
            _ => line,
        };
        let text = std::str::from_utf8(line).map_err(|error| {
            Failure::Outside(format!(
                "line {number}: byte {} is not UTF-8; save the text as UTF-8 and try again",
                error.valid_up_to() + 1
            ))
        });
        let text = match text {
            Ok(text) => text,
            Err(failure) => {
                out.flush()?;
                return Err(failure);
            }
        };
        work(number, text, &mut out)?;
        out.flush()?;
    }
    Ok(())
}

/// All of standard input as one text, line ends as `\n`.
pub fn whole() -> Result<String, Failure> {
    let mut bytes = Vec::new();
    io::stdin().lock().take(LIMIT as u64 + 1).read_to_end(&mut bytes)?;
    text(&bytes, "standard input")
}

/// A file as one text, line ends as `\n`.
pub fn file(path: &OsStr) -> Result<String, Failure> {
    let name = path.to_string_lossy();
    let unreadable = |error: io::Error| Failure::Outside(format!("{name} can't be read: {error}"));
    let mut bytes = Vec::new();
    std::fs::File::open(path)
        .and_then(|file| file.take(LIMIT as u64 + 1).read_to_end(&mut bytes))
        .map_err(unreadable)?;
    text(&bytes, &name)
}

fn text(bytes: &[u8], name: &str) -> Result<String, Failure> {
    if bytes.len() > LIMIT {
        return Err(Failure::Outside(format!(
            "{name} has more than {} MB: give it in parts, a volume at a time",
            LIMIT / 1_000_000
        )));
    }
    if !bytes.starts_with(&[0xff, 0xfe])
        && !bytes.starts_with(&[0xfe, 0xff])
        && let Err(error) = std::str::from_utf8(bytes)
    {
        let line = bytes[..error.valid_up_to()].split(|byte| *byte == b'\n').count();
        return Err(Failure::Outside(format!(
            "{name}: line {line} is not UTF-8; save the text as UTF-8 and try again"
        )));
    }
    let text = file::text(bytes).map_err(|error| Failure::Outside(format!("{name}: {error}")))?;
    Ok(text.replace("\r\n", "\n"))
}

//! Every print symbol of the standard's list of signs, written cell for cell and read back.
//!
//! Source: *The Rules of Unified English Braille*, Second Edition 2013, Appendix 3 (see the head of the data).

use cellwright::cell;
use cellwright::ueb::{self, Options, ReadOptions, register};

struct Row {
    braille: String,
    print: String,
    unicode: String,
    name: String,
    usage: String,
}

fn rows() -> Vec<Row> {
    include_str!("data/signs.tsv")
        .lines()
        .filter(|line| !line.starts_with("# "))
        .map(|line| {
            let mut fields = line.split('\t').map(str::to_owned).chain(std::iter::repeat(String::new()));
            let mut next = || fields.next().unwrap_or_default();
            Row { braille: next(), print: next(), unicode: next(), name: next(), usage: next() }
        })
        .collect()
}

fn write(print: &str) -> String {
    cell::to_ascii(&ueb::transcribe(print, &Options::default()))
}

/// The print of a row, and the cells that the list gives it, in a setting where the sign has its meaning; `None`
/// where no print alone asks for the sign.
fn setting(row: &Row) -> Option<(String, String)> {
    let code = row.unicode.split(' ').next()?;
    let c = char::from_u32(u32::from_str_radix(code, 16).ok()?)?;
    let braille = row.braille.to_lowercase();
    let name = row.name.as_str();
    let set = |print: String, braille: String| Some((print, braille));
    if name.contains("and set numeric") {
        // 6.4: a decimal point or comma with which a number begins.
        if c.is_ascii_digit() {
            set(c.to_string(), braille)
        } else {
            set(format!("{c}5"), format!("{braille}e"))
        }
    } else if name.starts_with("digit ") {
        // 6.1: digits stand in numeric mode.
        set(c.to_string(), format!("#{braille}"))
    } else if name == "long dash" {
        // 7.2.4: only where print uses a short one too.
        set(format!("— {c}"), format!(",- {braille}"))
    } else if let Some(digit) = name.strip_prefix("numeric space before digit ") {
        set(format!("1{c}{digit}"), format!("#a{braille}"))
    } else if name.contains("following capital letter") {
        set(format!("A{c}"), format!("{braille}a"))
    } else if name.contains("following letter") {
        set(format!("a{c}"), format!("{braille}a"))
    } else if name.contains("closing") && name.contains("single quotation") {
        // 7.6.2: inner quotation marks.
        set("“x ‘p q’ x”".to_owned(), format!("8;x ,8;p ;q{braille} ;x0"))
    } else if row.usage.starts_with("shape mode") {
        set(c.to_string(), format!(";${braille}"))
    } else if row.usage.starts_with("arrow mode") {
        set(c.to_string(), format!(";\\{braille}"))
    } else {
        set(c.to_string(), braille)
    }
}

/// Rows whose print asks for another sign, with the reason.
fn elsewhere(row: &Row) -> Option<&'static str> {
    let name = row.name.as_str();
    Some(match name {
        "seconds" | "inches" | "nondirectional double quotation mark" => {
            "7.6.6: a nondirectional mark is written so only where its direction can't be told (tested below)"
        }
        _ if name.contains("IPA") => "14.4: code switching is the transcriber's",
        _ if row.usage.starts_with("[12]") && name.contains("previous item") => {
            "4.2: a mark on a letter is written before it; the technical guidelines' marks stand after an item"
        }
        _ => return None,
    })
}

#[test]
fn every_print_symbol() {
    let (mut count, mut apart, mut wrong) = (0, 0, Vec::new());
    for row in rows() {
        let Some((print, braille)) = setting(&row) else { continue };
        if elsewhere(&row).is_some() {
            apart += 1;
            continue;
        }
        count += 1;
        let written = write(&print);
        // 5.7, 2.4.4: a grade 1 indicator where the sign could be read as a contraction.
        if written != braille && written.strip_prefix(';') != Some(&braille) {
            wrong.push(format!("{print} ({}): {written}, the standard {braille}", row.name));
        }
    }
    println!("{} of {count} print symbols right, {apart} apart", count - wrong.len());
    assert!(count > 270 && apart < 12 && wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn nondirectional_marks() {
    // 3.11 and 3.15: inches, feet, minutes and seconds by quotation marks.
    assert_eq!(write("6'2\""), "#f'#b,7");
    assert_eq!(write("40\""), "#dj,7");
    // 7.6.6: a mark by itself.
    assert_eq!(write("the \" key"), "! ;,7 key");
}

#[test]
fn every_shortform_and_wordsign() {
    let mut count = 0;
    for row in rows() {
        let word = row.usage.starts_with("grade 2, standing alone") || row.usage.contains("10.9");
        if word && row.print.len() > 1 && row.print.chars().all(|c| c.is_ascii_lowercase()) {
            count += 1;
            assert_eq!(write(&row.print), row.braille.to_lowercase(), "{}", row.print);
        }
    }
    assert!(count > 100, "{count}");
}

#[test]
fn every_print_symbol_reads_back() {
    let mut wrong = Vec::new();
    for row in rows() {
        let Some((print, _)) = setting(&row) else { continue };
        let back = ueb::read_print(&ueb::transcribe(&print, &Options::default()), &ReadOptions::default());
        if alike(&back, &print) == NOT_BACK.iter().any(|known| known.0 == row.name) {
            wrong.push(format!("{print} ({}): {back}", row.name));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Print symbols that share a sign with another, or that only the technical guidelines use: reading knows neither.
const NOT_BACK: &[(&str, &str)] = &[
    ("ratio", "3.17: the colon's sign"),
    ("proportion", "3.17: two colons"),
    ("dot over previous item", "technical guidelines, part 12"),
    ("dot under previous item", "technical guidelines, part 12"),
    ("tilde over previous item", "technical guidelines, part 12"),
    ("tilde under previous item", "technical guidelines, part 12"),
    ("hat under previous item", "technical guidelines, part 12"),
    ("equilibrium arrow (harpoons)", "technical guidelines, part 16"),
];

/// Equal but for what braille does not tell apart: the style of quotation marks and the width of dashes and spaces.
fn alike(a: &str, b: &str) -> bool {
    use unicode_normalization::UnicodeNormalization;
    let plain = |text: &str| -> String {
        text.nfc()
            .map(|c| match c {
                '“' | '”' | '"' | '‘' | '’' => '\'',
                '–' | '―' => '—',
                '\u{a0}' => ' ',
                c => c,
            })
            .collect()
    };
    plain(a) == plain(b)
}

/// The cells in braille order: the seven lines, and last those with right-hand dots alone (Appendix 3 follows it).
const ORDER: &str = " abcdefghijklmnopqrstuvxyz&=(!)*<%?:$]\\[w1234567890/+#>'-@^_\".;,";

/// No row is out of its place, and every contraction's row is a sign of ours with those cells and letters: so rows that
/// print alone does not ask for are held too.
#[test]
fn rows_stand_in_braille_order_and_contractions_are_ours() {
    let mut wrong = Vec::new();
    let mut before: Vec<usize> = Vec::new();
    for row in rows() {
        let braille = row.braille.to_lowercase();
        let place: Option<Vec<usize>> = braille.chars().map(|c| ORDER.find(c)).collect();
        let place = place.unwrap_or_default();
        if place.is_empty() || place < before {
            wrong.push(format!("{} {} {}: out of braille order", row.braille, row.print, row.name));
        }
        before = place;
        let section =
            ["(10.1)", "(10.2)", "(10.3)", "(10.4)", "(10.5)", "(10.6)", "(10.7)", "(10.8)", "(10.9)"];
        if section.iter().any(|section| row.usage.contains(section)) && !row.print.is_empty() {
            let cells = cell::from_ascii(&braille).unwrap_or_default();
            let ours = |sign: &register::Sign| sign.cells == cells && sign.print == row.print;
            if !register::signs().iter().any(ours) && write(&row.print) != braille {
                wrong.push(format!("{} {} {}: no contraction of ours", row.braille, row.print, row.name));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Each row is as it was taken from the standard's list: many of them (indicators, signs for transcribers) no print asks for. The
/// check sums were taken by a general-purpose library (CRC-32 of ISO-HDLC, as zlib computes it).
#[test]
fn every_row_is_as_it_was_taken() {
    let sums = include_str!("data/signs.sums").lines().filter(|line| !line.starts_with('#'));
    let rows = include_str!("data/signs.tsv").lines().filter(|line| !line.starts_with("# "));
    let crc = crc::Crc::<u32>::new(&crc::CRC_32_ISO_HDLC);
    let changed: Vec<&str> = rows
        .clone()
        .zip(sums.clone())
        .filter_map(|(row, sum)| (format!("{:08x}", crc.checksum(row.as_bytes())) != sum).then_some(row))
        .collect();
    assert!(changed.is_empty(), "{}", changed.join("\n"));
    assert_eq!(rows.count(), sums.count());
}

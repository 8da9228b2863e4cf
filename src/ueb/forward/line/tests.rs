use proptest::prelude::*;

use super::*;
use crate::ueb::{self, Explanation};

/// Writes a line token by token, or all of it together.
fn written(line: &str, together: bool) -> Explanation {
    let options = Options::default();
    let mut out = Explanation::default();
    let mut writer = Writer::new(line, &options, &mut out);
    if together {
        writer.stretches(line, 0, true, true);
    } else {
        writer.line(line, 0);
    }
    out
}

const TOKENS: &[&str] = &[
    "the",
    "The",
    "in",
    "in.",
    "was",
    "was,",
    "I",
    "A",
    "IT",
    "STOP!",
    "STOP.",
    "B.",
    "so",
    "end.",
    "End?",
    "12",
    "3.5,",
    "Ge1:1",
    "don't",
    "can’t",
    "—",
    "well—no",
    "\"Go",
    "\"",
    "it,\"",
    "“was”",
    "(in)",
    "(HOW",
    "x²",
    "½",
    "cont.",
    "br-r-r",
    "p-p-please",
    "MHz",
    "café",
    "É",
    "¿",
    "—NO—",
    "...",
    "",
    " ",
    "a=b",
    "www.the.com",
    "?",
];

/// Writes a line in one piece, or cut wherever it may be.
fn cut_or_whole(line: &str, whole: bool) -> Explanation {
    let options = Options::default();
    let mut out = Explanation::default();
    let mut writer = Writer::new(line, &options, &mut out);
    if whole {
        writer.piece(line, 0, true, true, false);
    } else {
        writer.stretch(line, 0, true, true);
    }
    out
}

#[test]
fn what_has_no_end_is_the_same_in_pieces() {
    for part in [
        "1",
        "12,",
        "3.",
        "4,,",
        "5...",
        "678.9,0",
        ",1.2",
        "a",
        "A",
        "the",
        "enin",
        "aBCdE",
        "1a2k",
        "1A",
        "k2",
        "a/the/",
        "a+b=c",
        "x(y)",
        "(b",
        "1/2-3:",
        "x²y₃",
        "½1⁄2",
        "-",
        "*",
        "<a>",
        "a1-",
        "but-not/b",
        "x^{",
        "a\\b",
        "“a ",
        "a—b – ",
        "“ab” ",
        "don't a/",
        "www.a.com/",
        "e\u{301}1",
    ] {
        let line = part.repeat(3 * LONG / part.len());
        let (cut, whole) = (cut_or_whole(&line, false), cut_or_whole(&line, true));
        let differ = (0..).zip(&cut.cells).find(|(k, cell)| whole.cells.get(*k) != Some(*cell)).map(|d| d.0);
        assert!(
            differ.is_none() && cut.cells.len() == whole.cells.len(),
            "{part}: {differ:?} of {}",
            cut.cells.len()
        );
        assert_eq!(cut.signs, whole.signs, "{part}");
        assert_eq!(cut.passed_over, whole.passed_over, "{part}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 4000, ..Default::default() })]
    #[test]
    fn token_by_token_is_the_same_as_together(words in prop::collection::vec(prop::sample::select(TOKENS), 0..14)) {
        let line = words.join(" ");
        let (apart, together) = (written(&line, false), written(&line, true));
        prop_assert_eq!(&apart.cells, &together.cells, "{}", line);
        prop_assert_eq!(apart, together);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 12, ..Default::default() })]
    #[test]
    fn what_has_no_end_reads_the_same_in_pieces(parts in prop::collection::vec(prop::sample::select(PARTS), 1..9)) {
        let line = parts.concat();
        let line = line.repeat(2 * LONG / line.len() + 1);
        let read = |whole| ueb::read_print(&cut_or_whole(&line, whole).cells, &ueb::ReadOptions::default());
        prop_assert_eq!(read(false), read(true));
    }
}

const PARTS: &[&str] = &[
    "a", "j", "k", "the", "in", "be", "A", "B", "Ab", "ABC", "1", "20", ",", ".", "...", "?", "!", ";", "-",
    "--", "—", "'", "\"", "“", "”", "(", ")", "[", "]", "/", "+", "=", "*", "#", "%", "~", "<", ">", "\\",
    "&", "@", "^", "_", "{", "}", "½", "²", "₃", "é", "É", " ", "and", "great", "st", "ness", "XIV", "°",
    "$",
];

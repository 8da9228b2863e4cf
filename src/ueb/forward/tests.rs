//! Places where a small change of the rules once went unseen. Each by rule, on words of our own.

use crate::cell;
use crate::ueb::{self, Options};

fn written(print: &str) -> String {
    cell::to_ascii(&ueb::transcribe(print, &Options::default()))
}

fn marked(print: &str) -> String {
    cell::to_ascii(&ueb::transcribe(print, &Options { marks: true, ..Options::default() }))
}

// 8.8.1: after capitals a suffix is small, behind the terminator; no capital is taken from them to begin a word with it.
#[test]
fn suffixes_after_capitals() {
    let suffixes = [
        "s", "th", "st", "nd", "rd", "ing", "ed", "er", "ers", "es", "ish", "ical", "ic", "able", "ible",
        "al", "ion", "ity", "ist", "ism", "ive", "ous", "est", "ings", "ery", "ance", "ence", "ise", "ize",
        "ian", "ant", "ent", "ation", "ly", "y", "en", "or", "ure",
    ];
    for suffix in suffixes {
        let braille = written(&format!("PC{suffix}"));
        assert!(braille.starts_with(",,pc,'"), "{suffix}: {braille}");
    }
    // Such letters begin words too, after an s.
    for suffix in ["ment", "ness", "less", "ful"] {
        let braille = written(&format!("BPS{suffix}"));
        assert!(braille.starts_with(",,bps,'"), "{suffix}: {braille}");
    }
    assert_eq!(written("PCish"), ",,pc,'i%");
    // Letters that are no suffix: the last capital is their word's.
    assert_eq!(written("PCabin"), ",p,cab9");
}

// 11.3.2: a fraction that is one character, and a number right behind it, are two numbers.
#[test]
fn a_digit_behind_a_fraction() {
    assert_eq!(written("½5"), "#a/b#e");
    assert_eq!(written("5½"), "#e#a/b");
}

// A star behind a backslash is print, and closes nothing: so the one before it opens nothing (3.3, 5.7.1).
#[test]
fn a_star_that_is_print_closes_nothing() {
    assert_eq!(marked(r"*a b \* c"), "\"9a ;b \"9 ;c");
    assert_eq!(marked(r"~a b \~ c"), "@9a ;b @9 ;c");
}

// 5.9.1: a variable in front of a technical word that has two indicators or more goes into the grade 1 word.
#[test]
fn a_variable_before_a_technical_word() {
    assert_eq!(marked("x√{a}√{b}"), ";;x%a+%b+");
    // One indicator is no word's (11.4.3, 3.24).
    assert_eq!(marked("x^{2}"), "x;9#b");
}

// 10.6.4: what looks like an abbreviation and is a word leaves no choice.
#[test]
fn words_that_are_no_abbreviations() {
    let choices = |print: &str| ueb::explain(print, &Options::default()).choices.len();
    let words = [
        "beck", "beds", "beg", "bell", "belt", "bench", "bend", "bent", "berth", "best", "bet", "bets",
        "bed", "conch", "conk", "cons", "disc", "discs", "disk", "disks",
    ];
    for word in words {
        assert_eq!(choices(&format!("{word}.")), 0, "{word}");
    }
    for short in ["bef.", "conf.", "dist."] {
        assert_eq!(choices(short), 1, "{short}");
    }
}

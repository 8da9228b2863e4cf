//! The signs that rules ask for by name.

use std::sync::OnceLock;

use super::super::register::{self, SignId};

macro_rules! known {
    ($($name:ident: $key:literal,)*) => {
        /// The signs that rules ask for by name.
        #[allow(missing_docs)]
        pub(crate) struct Known { $(pub $name: SignId,)* }
        /// The signs that rules ask for by name.
        pub(crate) fn known() -> &'static Known {
            static KNOWN: OnceLock<Known> = OnceLock::new();
            KNOWN.get_or_init(|| Known { $($name: id($key),)* })
        }
        #[cfg(test)]
        mod known_tests {
            #[test]
            fn every_known_sign_is_registered() {
                $(assert!(super::register::by_key($key).is_some(), "{}", $key);)*
            }
        }
    };
}

/// The sign with this key; the blank when there is none.
pub(crate) fn id(key: &str) -> SignId {
    register::by_key(key).map_or_else(|| register::letter(' '), |s| s.id)
}

known! {
    space: "space",
    capital_letter: "capital letter indicator",
    capital_word: "capitalised word indicator",
    capital_passage: "capitalised passage indicator",
    capital_end: "capitals terminator",
    grade1: "grade 1 symbol indicator",
    grade1_word: "grade 1 word indicator",
    numeric: "numeric indicator",
    point: "full stop (period), decimal point",
    fraction: "simple numeric fraction line",
    superscript: "superscript indicator",
    subscript: "subscript indicator",
    group_open: "opening braille grouping indicator",
    group_close: "closing braille grouping indicator",
    grade1_passage: "grade 1 passage indicator",
    grade1_end: "grade 1 terminator",
    root_open: "open radical",
    root_close: "close radical",
    general_open: "general fraction open indicator",
    general_line: "general fraction line",
    general_close: "general fraction close indicator",
    ligature: "ligature indicator",
    capital_ligature: "modifier ligature indicator where only the following letter is capitalised",
    line: "line indicator, as in poetry",
    dash: "dash",
    long_dash: "long dash",
    apostrophe: "apostrophe",
    one_open: "opening quotation mark",
    one_close: "closing quotation mark",
    double_open: "opening double quotation mark",
    double_close: "closing double quotation mark",
    single_open: "opening single quotation mark",
    single_close: "closing single quotation mark",
    italian_open: "opening Italian quotation mark",
    italian_close: "closing Italian quotation mark",
    double_straight: "nondirectional double quotation mark",
    shape_end: "shape terminator",
    stress: "primary stress sign",
    struck: "line through previous item (cancellation, \"not\")",
    unhandled: "unhandled",
}

/// The sign of a digit.
pub(crate) fn digit(c: char) -> SignId {
    static DIGITS: OnceLock<[SignId; 10]> = OnceLock::new();
    DIGITS.get_or_init(|| std::array::from_fn(|i| id(&format!("digit {i}"))))
        [c.to_digit(10).unwrap_or(0) as usize]
}

/// The sign of a numeric space with its digit (6.6).
pub(crate) fn spaced_digit(c: char) -> SignId {
    static DIGITS: OnceLock<[SignId; 10]> = OnceLock::new();
    DIGITS.get_or_init(|| std::array::from_fn(|i| id(&format!("numeric space before digit {i}"))))
        [c.to_digit(10).unwrap_or(0) as usize]
}

/// The sign of one of `,;:.!?`; of the full stop for anything else.
pub(crate) fn stop(byte: u8) -> SignId {
    static STOPS: OnceLock<[SignId; 6]> = OnceLock::new();
    let stops = STOPS.get_or_init(|| {
        ["full stop", "comma", "semicolon", "colon", "exclamation mark", "question mark"].map(id)
    });
    stops[match byte {
        b',' => 1,
        b';' => 2,
        b':' => 3,
        b'!' => 4,
        b'?' => 5,
        _ => 0,
    }]
}

/// The sign of the slash.
pub(crate) fn solidus() -> SignId {
    static SIGN: OnceLock<SignId> = OnceLock::new();
    *SIGN.get_or_init(|| id("solidus"))
}

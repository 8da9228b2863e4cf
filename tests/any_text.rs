//! Any input from outside gives a result or an error that says what to do: no panic, nothing dropped. The properties
//! stand in tests/properties, where the fuzz targets find them too.

mod properties;

use cellwright::cell::Cell;
use cellwright::exercise::{Exercise, Slip};
use cellwright::ueb::{self, Options};
use proptest::prelude::*;

fn options() -> impl Strategy<Value = Options> {
    (any::<bool>(), any::<bool>()).prop_map(|(contracted, marks)| Options {
        contracted,
        marks,
        ..Options::default()
    })
}

fn cells(most: usize) -> impl Strategy<Value = Vec<Cell>> {
    prop::collection::vec(prop_oneof![1 => Just(0u8), 4 => 0u8..64], 0..most)
        .prop_map(|bits| bits.into_iter().filter_map(Cell::from_bits).collect())
}

/// Letters, marks and signs that rules turn on.
const TELLING: &str = "[a-eA-Est '\"“”‘’.,;:!?—–_*^{}~<u>/\\\\()0-9½²é\u{304}\u{35e}œ\u{a0}\n-]{0,40}";

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(1500) })]
    #[test]
    fn any_text(text in ".{0,40}", options in options()) {
        properties::any_text(&text, &options);
    }

    #[test]
    fn text_of_telling_signs(text in TELLING, options in options()) {
        properties::any_text(&text, &options);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(400) })]
    #[test]
    fn any_bytes_from_outside(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        properties::outside(&bytes);
    }

    #[test]
    fn any_exercises_slips_and_records(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        properties::exercises(&bytes);
        properties::slips(&bytes);
        properties::records(&bytes);
    }

    #[test]
    fn any_lines_from_outside(text in "[0-9a-zA-Z=,;⠁-⣿ \t\n\r\u{c}-]{0,120}") {
        properties::outside(text.as_bytes());
    }

    #[test]
    fn links_and_slips_with_a_character_changed(text in ".{0,60}", at in any::<prop::sample::Index>(), with in "[0-9A-Za-z_-]") {
        let exercise = Exercise { text, ..Exercise::default() };
        let links = [exercise.to_payload(), Slip::default().to_payload()];
        for link in links.into_iter().flatten() {
            properties::outside(link.as_bytes());
            let mut changed = link.clone();
            let place = at.index(link.len());
            changed.replace_range(place..=place, &with);
            properties::outside(changed.as_bytes());
            properties::outside(&link.as_bytes()[..place]);
        }
    }

    #[test]
    fn any_cells_are_marked(print in TELLING, written in prop::collection::vec(cells(20), 0..4), options in options()) {
        properties::marked(&print, &written, &options);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(80) })]
    #[test]
    fn any_print_is_laid_out_and_checked(
        print in "([-#a-zA-Z0-9*.,;:!?'é\u{a0}\u{c} ]{0,30}\n){0,12}", sheets in any::<[[u8; 3]; 2]>(), volume in any::<bool>(),
    ) {
        let [sheet, other] = sheets.map(properties::sheet);
        properties::laid_out(&print, sheet, other);
        properties::checked(&print, Some(&print), volume, sheet);
    }

    #[test]
    fn any_word_is_divided(word in "[a-zA-Z0-9'’,.—\u{a0}é-]{0,70}") {
        properties::divided(&word);
    }
}

/// A mark that is two marks (U+0344), after letters that take them and after ligatures.
#[test]
fn marks_in_one_character() {
    for text in ["a\u{344}", "\u{344}", "\u{e6}\u{344}\u{304}", "\u{1e3}\u{304}\u{304}\u{304}"] {
        for contracted in [false, true] {
            properties::any_text(text, &Options { contracted, marks: false, ..Options::default() });
        }
    }
}

/// Found by the round trip of open texts, a choice that came before its sign was written; and by fuzzing.
#[test]
fn texts_that_once_failed() {
    let texts = [
        "Superhighway, the brain child of Al Gore, US Vice President.  The ISHW",
        "È÷ J",
        "AA\u{12}\r\r\r\r\r\r\r~~~~~Y^0~~~\0\0\0'~x\u{7f}",
        "tor \u{200c}",
    ];
    for (text, contracted, marks) in texts
        .iter()
        .flat_map(|t| [false, true].map(|c| (t, c)))
        .flat_map(|(t, c)| [false, true].map(|m| (t, c, m)))
    {
        let options = Options { contracted, marks, ..Options::default() };
        properties::any_text(text, &options);
        properties::marked(text, &[], &options);
    }
}

/// Texts of one repeated mark, the worst that bookkeeping can meet, come to an end at a length at which a square of
/// the length would not; how the time grows is measured in the bench.
#[test]
fn long_rows_of_one_mark_come_to_an_end() {
    let kinds = [
        "a", "A", "!", "'", "“", "*a* ", "^{", "1", "A ", "-", "a'", "(", "*", "?", "r-", " '", "\"", "é",
        "œ",
    ];
    for kind in kinds {
        let text = kind.repeat(100_000);
        let explained = ueb::explain(&text, &Options { contracted: true, marks: true, ..Options::default() });
        assert!(!explained.cells.is_empty(), "{kind:?}");
        assert_eq!(
            explained.signs.last().map(|sign| sign.cells.end),
            Some(explained.cells.len()),
            "{kind:?}"
        );
    }
}

//! Sources: CommonMark 0.31 for the marks; the fences are this project's own.

use super::*;

fn blocks(text: &str) -> Vec<(Kind, String)> {
    let (blocks, _) = read(text, Sheet::default()).expect("Markdown");
    blocks.into_iter().map(|block| (block.kind, block.print)).collect()
}

fn forms(text: &str) -> Vec<(What, u8, u8, bool, String)> {
    let form = |(kind, print): (Kind, String)| match kind {
        Kind::Form(form) => Some((form.what, form.first, form.over, form.before, print)),
        _ => None,
    };
    blocks(text).into_iter().filter_map(form).collect()
}

fn told(text: &str) -> Vec<(usize, &'static str)> {
    read(text, Sheet::default())
        .map_or(Vec::new(), |(_, told)| told.into_iter().map(|told| (told.line, told.what)).collect())
}

#[test]
fn texts_with_the_plain_marks_alone_are_left_to_the_plain_reader() {
    for text in [
        "# Fares\n\nA *boat* and a **cart**, <u>both</u>.\n\n- a\n  - b\n1. c\n",
        "\u{c}1\nOne\n\u{c}2\ntwo, 2 * 3 and H_{2}O\n",
        "    set in\n\n12. of March",
    ] {
        assert_eq!(read(text, Sheet::default()), None, "{text}");
    }
}

#[test]
fn verse_keeps_its_lines_levels_stanzas_and_numbers() {
    let verse = forms("```verse\nOne  5\n  two\n\nthree\n```\n");
    assert_eq!(
        verse,
        [
            (What::Numbered, 1, 5, true, "One\t5".into()),
            (What::Verse, 3, 5, false, "two".into()),
            (What::Verse, 1, 5, true, "three".into()),
        ]
    );
}

#[test]
fn plays_letters_quotations_and_epigraphs() {
    let what = |text: &str| -> Vec<What> { forms(text).into_iter().map(|form| form.0).collect() };
    let play = "```play\n(A bell.)\nMate: Who is\n  there?\n*[The seal looks up.]*\n```\n";
    assert_eq!(what(play), [What::Direction, What::Speech, What::Direction]);
    assert_eq!(forms(play)[1].4, "Mate: Who is there?");
    let letter =
        "```letter\nheading: Orrin\naddress: Fenn\ngreeting: Dear all,\n\nA line.\n\nsignature: me\n```\n";
    assert_eq!(what(letter), [What::Opening, What::Opening, What::Opening, What::Closing]);
    assert!(blocks(letter).iter().any(|block| block.0 == Kind::Paragraph));
    let quote = forms("> A line\n> goes on.\n>\n> — the mate\n");
    assert_eq!(quote[0], (What::Quotation, 5, 3, true, "A line goes on.".into()));
    assert_eq!((quote[1].0, quote[1].1, quote[1].2), (What::Attribution, 7, 7));
    assert_eq!(forms("```epigraph\nA line.\n\n— the mate\n```\n")[1].0, What::Attribution);
    assert_eq!(what("a\n\n***\n\nb\n"), [What::Break]);
}

#[test]
fn lists_nest_by_their_parents() {
    let text = "- a\n    - b\n        - c\n            - d\n\n***\n";
    let levels: Vec<Kind> = blocks(text).into_iter().map(|block| block.0).take(4).collect();
    assert_eq!(levels, [Kind::Item(1, 4), Kind::Item(2, 4), Kind::Item(3, 4), Kind::Item(4, 4)]);
    let numbered = blocks("1. a\n2. b\n\n   more\n\n***\n");
    assert_eq!(numbered[0], (Kind::Item(1, 1), "1. a".into()));
    assert_eq!(numbered[2].1, "more");
}

#[test]
fn notes_stand_behind_their_print_page() {
    let text = "\u{c}1\nA boat[^a] and a cart[^7].\n\n[^a]: One.\n[^7]: Two.\n\n\u{c}2\nMore.\n";
    let all: Vec<String> = blocks(text).into_iter().map(|block| block.1).collect();
    assert_eq!(all, ["1", "A boat^{1} and a cart^{7}.", "", "^{1} One.", "^{7} Two.", "2", "More."]);
    assert_eq!(told("A boat.\n\n[^1]: Nobody asks.\n").len(), 1);
}

#[test]
fn a_table_too_wide_is_listed_with_a_note() {
    let row = "| the boat from Hallam Quay | the boat to Little Fenn |\n";
    let text = format!("| morning | evening |\n| --- | --- |\n{row}");
    let all = blocks(&text);
    assert!(matches!(all[0].0, Kind::Form(form) if form.what == What::Note));
    assert_eq!(all[1].0, Kind::Item(1, 1));
    assert_eq!(all[1].1, "morning: the boat from Hallam Quay; evening: the boat to Little Fenn");
    let narrow = blocks("| a | b |\n| --- | --- |\n| 1 | 2 |\n");
    assert_eq!(narrow[0].1, "a\tb\n1\t2");
}

#[test]
fn print_pages_may_begin_anywhere() {
    let verse = blocks("```verse\none\n\u{c}2\ntwo\n```\n");
    assert_eq!(verse[1], (Kind::PrintPage, "2".into()));
    let quote = blocks("> one\n\u{c}2\n> two\n");
    let prints: Vec<&str> = quote.iter().map(|block| block.1.as_str()).collect();
    assert_eq!(prints, ["one", "2", "two"]);
    let list = blocks("- one\n\u{c}2\n  - two\n\n***\n");
    assert_eq!(list[2].0, Kind::Item(2, 2));
    let table = blocks("***\n\n\u{c}2\n| a | b |\n| --- | --- |\n| 1 | 2 |\n");
    assert_eq!(table[1].0, Kind::PrintPage);
}

#[test]
fn characters_by_name_and_emphasis_by_lines() {
    assert_eq!(blocks("_a_ __b__ &amp; \\*c\\* &lt;\n")[0].1, "*a* **b** & \\*c\\* \\<");
    assert_eq!(blocks("one\\\ntwo\n\n***\n")[..2].len(), 2);
}

#[test]
fn what_has_no_form_is_told_and_its_words_are_kept() {
    let text = "A [boat](https://boat.test) and `code`.\n\n<table>\n\n```poem\nwords\n```\n";
    let lines: Vec<usize> = told(text).into_iter().map(|told| told.0).collect();
    assert_eq!(lines, [1, 1, 3, 5]);
    let all: String = blocks(text).into_iter().map(|block| block.1).collect();
    assert!(all.contains("A boat and code.") && all.contains("words"));
    assert_eq!(
        told("```contents\nFares\n```\n"),
        [(2, "this line of the contents has no page behind its words")]
    );
    let deep = "`````box\n````box\n```box\na\n\n![b](c)\n```\n````\n`````\n";
    assert_eq!(told(deep).iter().map(|told| told.0).collect::<Vec<_>>(), [6]);
}

proptest::proptest! {
    #[test]
    fn any_text_ends_well(text in "[-a#>|`*_\\[\\]^:\u{c}1 \n]{0,120}") {
        let _ = read(&text, Sheet::default());
    }
}

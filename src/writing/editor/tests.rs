//! The editor against a plain model: a list of lines, a caret, and a history of whole texts.

use proptest::prelude::*;

use super::*;
use crate::cell::{from_ascii, to_ascii};
use crate::ueb;
use crate::ueb::Remark;

#[derive(Clone, Debug)]
enum Act {
    Write(u8),
    Insert(Vec<Vec<Cell>>),
    NewLine,
    Erase(bool),
    Go(usize, bool),
    Step(bool),
    SelectAll,
    Undo,
    Redo,
}

fn cell() -> impl Strategy<Value = Cell> {
    // Blanks, indicators and prefixes more often than the rest, so that words, passages and waiting prefixes come.
    prop_oneof![
        3 => Just(Cell::BLANK),
        3 => prop::sample::select(vec![0b100_000u8, 0b110_000, 0b010_000, 0b111_100, 1]).prop_map(|bits| Cell::from_bits(bits).unwrap()),
        6 => (0u8..64).prop_map(|bits| Cell::from_bits(bits).unwrap()),
    ]
}

fn act() -> impl Strategy<Value = Act> {
    let line =
        prop_oneof![9 => prop::collection::vec(cell(), 0..9), 1 => prop::collection::vec(cell(), 230..520)];
    prop_oneof![
        6 => cell().prop_map(|cell| Act::Write(cell.bits())),
        3 => prop::collection::vec(line, 0..4).prop_map(Act::Insert),
        1 => Just(Act::NewLine),
        3 => any::<bool>().prop_map(Act::Erase),
        3 => (any::<usize>(), any::<bool>()).prop_map(|(at, select)| Act::Go(at, select)),
        2 => any::<bool>().prop_map(Act::Step),
        1 => Just(Act::SelectAll),
        3 => Just(Act::Undo),
        2 => Just(Act::Redo),
    ]
}

/// The text as cells with `None` for a line end.
type Flat = Vec<Option<Cell>>;

fn flat(lines: &[Vec<Cell>]) -> Flat {
    let mut out = Flat::new();
    for (number, line) in lines.iter().enumerate() {
        if number > 0 {
            out.push(None);
        }
        out.extend(line.iter().copied().map(Some));
    }
    out
}

#[derive(Default)]
struct Model {
    text: Flat,
    caret: usize,
    anchor: Option<usize>,
    done: Vec<(Flat, usize)>,
    undone: Vec<(Flat, usize)>,
}

impl Model {
    fn range(&self) -> (usize, usize) {
        let anchor = self.anchor.unwrap_or(self.caret);
        (anchor.min(self.caret), anchor.max(self.caret))
    }

    fn put(&mut self, from: usize, to: usize, with: Flat) {
        self.done.push((self.text.clone(), self.caret));
        self.undone.clear();
        self.caret = from + with.len();
        self.text.splice(from..to, with);
        self.anchor = None;
    }
}

fn agree(editor: &Editor, model: &Model) -> Result<(), TestCaseError> {
    let lines = whole_lines(editor.lines());
    prop_assert_eq!(flat(&lines), model.text.clone());
    prop_assert_eq!(editor.offset(editor.caret()), model.caret);
    let selected = editor.selection().map(|(from, to)| (editor.offset(from), editor.offset(to)));
    let (from, to) = model.range();
    prop_assert_eq!(selected, (from != to).then_some((from, to)));
    // The chunks are the lines, and every line says what the whole text, read at once, says there.
    let drawn: Vec<_> = editor.chunks().iter().flat_map(|chunk| chunk.lines.iter().map(Rc::as_ptr)).collect();
    prop_assert_eq!(drawn, editor.lines().iter().map(Rc::as_ptr).collect::<Vec<_>>());
    let fresh = Editor::new(&lines, ReadOptions::default());
    let whole = ueb::read(&lines.join(&Cell::BLANK), &ReadOptions::default());
    let waits = whole.pieces.last().is_some_and(|piece| piece.remark == Remark::Waiting);
    let said: String = whole.print;
    let print = |editor: &Editor| {
        let mut print = String::new();
        for (number, line) in editor.lines().iter().enumerate() {
            if number > 0 && !line.goes_on {
                // A line end is a blank, of which a line continuation indicator (6.10) makes nothing.
                let end = editor.offset(Place { line: number, cell: 0 }) - 1;
                print.push_str(&editor.live.print_of(end..end + 1));
            }
            print.push_str(&line.print);
        }
        print
    };
    prop_assert_eq!(print(editor), print(&fresh));
    if !waits {
        prop_assert_eq!(print(editor), said);
    }
    for line in editor.lines() {
        let ends: Vec<usize> = line.words.iter().map(|word| word.to).collect();
        let starts: Vec<usize> = line.words.iter().map(|word| word.from).collect();
        prop_assert_eq!(ends.last().copied().unwrap_or(0), line.cells.len());
        prop_assert!(starts.iter().skip(1).eq(ends.iter().take(ends.len().saturating_sub(1))));
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    #[test]
    fn the_editor_does_what_the_model_does(acts in prop::collection::vec(act(), 1..40)) {
        let mut editor = Editor::new(&[], ReadOptions::default());
        let mut model = Model::default();
        for act in acts {
            let (from, to) = model.range();
            match act {
                Act::Write(bits) => {
                    let cell = Cell::from_bits(bits).unwrap();
                    editor.write(cell);
                    model.put(from, to, vec![Some(cell)]);
                }
                Act::Insert(lines) => {
                    editor.insert(&lines);
                    model.put(from, to, flat(&lines));
                }
                Act::NewLine => {
                    editor.new_line();
                    model.put(from, to, vec![None]);
                }
                Act::Erase(forward) => {
                    editor.erase(forward);
                    let (mut from, mut to) = (from, to);
                    if from == to && forward {
                        to = (to + 1).min(model.text.len());
                    } else if from == to {
                        from = from.saturating_sub(1);
                    }
                    if from != to {
                        model.put(from, to, Flat::new());
                    }
                }
                Act::Go(at, select) => {
                    let at = at % (model.text.len() + 1);
                    editor.go(editor.place(at), select);
                    model.anchor = if select { model.anchor.or(Some(model.caret)) } else { None };
                    model.caret = at;
                }
                Act::Step(forward) => {
                    let caret = editor.caret();
                    editor.go(if forward { editor.after(caret) } else { editor.before(caret) }, false);
                    model.caret = if forward { (model.caret + 1).min(model.text.len()) } else { model.caret.saturating_sub(1) };
                    model.anchor = None;
                }
                Act::SelectAll => {
                    editor.select_all();
                    model.anchor = Some(0);
                    model.caret = model.text.len();
                }
                Act::Undo => {
                    let undone = editor.undo();
                    prop_assert_eq!(undone, !model.done.is_empty());
                    if let Some((text, caret)) = model.done.pop() {
                        let after = std::mem::replace(&mut model.text, text);
                        model.undone.push((after, caret));
                        model.caret = caret;
                        model.anchor = None;
                    }
                }
                Act::Redo => {
                    let redone = editor.redo();
                    prop_assert_eq!(redone, !model.undone.is_empty());
                    if let Some((text, caret)) = model.undone.pop() {
                        let before = std::mem::replace(&mut model.text, text);
                        model.done.push((before, caret));
                        // After a redo the caret stands behind what was done: within the text, past the change.
                        model.caret = editor.offset(editor.caret());
                        prop_assert!(model.caret <= model.text.len());
                        model.anchor = None;
                    }
                }
            }
            agree(&editor, &model)?;
        }
        // Another editor goes on from there: both take back and do again the same.
        let mut other = Editor::new(&whole_lines(editor.lines()), ReadOptions::default());
        prop_assert!(other.go_on(&editor.history()));
        // A long line may be cut at other places.
        let state = |editor: &Editor| (whole_lines(editor.lines()), editor.offset(editor.caret()));
        for step in [Editor::redo, Editor::undo, Editor::redo] {
            loop {
                prop_assert_eq!(state(&editor), state(&other));
                let more = step(&mut editor);
                prop_assert_eq!(step(&mut other), more);
                if !more {
                    break;
                }
            }
        }
        // All of it can be taken back, and done again.
        let text = whole_lines(editor.lines());
        let mut steps = 0;
        while editor.undo() {
            steps += 1;
        }
        prop_assert_eq!(whole_lines(editor.lines()), vec![Vec::<Cell>::new()]);
        for _ in 0..steps {
            prop_assert!(editor.redo());
        }
        // What had been taken back before lies after it.
        prop_assert_eq!(whole_lines(editor.lines()), text);
    }
}

fn editor(lines: &[&str]) -> Editor {
    let lines: Vec<Vec<Cell>> = lines.iter().map(|line| from_ascii(line).unwrap()).collect();
    Editor::new(&lines, ReadOptions::default())
}

fn ascii(editor: &Editor) -> Vec<String> {
    whole_lines(editor.lines()).iter().map(|line| to_ascii(line)).collect()
}

#[test]
fn a_capitals_passage_goes_over_a_line_end() {
    // 8.5.2: ,,, begins a passage of capitals, ,' ends it.
    let mut text = editor(&[",,,! f]ry", "l1ves at t5,'", "h]e"]);
    let said: Vec<&str> = text.lines().iter().map(|line| line.print.as_str()).collect();
    assert_eq!(said, ["THE FERRY", "LEAVES AT TEN", "here"]);
    // The passage's indicator is taken away: the lines after it are read anew.
    text.go(Place { line: 0, cell: 3 }, false);
    for _ in 0..3 {
        text.erase(false);
    }
    assert_eq!(text.lines()[0].print, "the ferry");
    assert!(text.lines()[1].print.starts_with("leaves at ten"));
    text.undo();
    text.undo();
    text.undo();
    assert_eq!(text.lines()[1].print, "LEAVES AT TEN");
}

#[test]
fn a_key_changes_one_chunk_of_a_long_text() {
    let lines: Vec<Vec<Cell>> = (0..20 * CHUNK).map(|_| from_ascii(",! f]ry l1ves").unwrap()).collect();
    let mut text = Editor::new(&lines, ReadOptions::default());
    let before = text.chunks().to_vec();
    text.write(from_ascii("a").unwrap()[0]);
    let same = text.chunks().iter().zip(&before).filter(|(one, two)| Rc::ptr_eq(one, two)).count();
    assert_eq!(same, before.len() - 1);
}

fn waiting(text: &Editor) -> Option<Vec<Cell>> {
    let (prefix, waiting) = text.waiting()?;
    assert!(!waiting.could.is_empty() || !waiting.does.is_empty());
    Some(prefix)
}

#[test]
fn a_prefix_waits_wherever_the_caret_is() {
    let mut text = editor(&["x \"", "day"]);
    assert_eq!(waiting(&text), None);
    text.go(Place { line: 0, cell: 3 }, false);
    assert_eq!(waiting(&text), Some(from_ascii("\"").unwrap()));
    let mut text = editor(&["k _"]);
    assert_eq!(waiting(&text), Some(from_ascii("_").unwrap()));
    assert!(text.lines()[0].words[1].waiting);
    assert_eq!(text.lines()[0].print, "knowledge ");
    text.write(from_ascii("w").unwrap()[0]);
    assert_eq!(waiting(&text), None);
    assert_eq!(text.lines()[0].print, "knowledge world");
}

#[test]
fn a_history_of_another_text_is_left_alone() {
    let mut first = editor(&["abc"]);
    first.erase(false);
    let history = first.history();
    for (lines, left) in [
        (["abd"], history.as_str()),
        (["ab"], ""),
        (["ab"], "ab\tx"),
        (["ab"], "ab\t2\nu\t1\t1\tc"),
        (["ab"], "ab\t2\nu\t1\t-1\tc\t"),
        (["ab"], "ab\t2\nu\t1\t1\té\t"),
    ] {
        let mut other = editor(&lines);
        assert!(!other.go_on(left), "{left:?}");
        assert!(!other.undo());
    }
    // Places that are not there are brought to the nearest that are.
    let mut other = editor(&["ab"]);
    assert!(other.go_on("ab\t99\nu\t70\t90\tc\tdef"));
    assert!(other.undo());
    assert_eq!(ascii(&other), ["abc"]);
    let mut other = editor(&["ab"]);
    assert!(other.go_on(&history));
    assert!(other.undo());
    assert_eq!(ascii(&other), ["abc"]);
}

#[test]
fn the_sign_at_the_caret_is_named() {
    let mut text = editor(&["f]ry", "c"]);
    let at = |text: &mut Editor, line, cell| {
        text.go(Place { line, cell }, false);
        text.sign_at_caret().map(|sign| sign.key)
    };
    assert_eq!(at(&mut text, 0, 1), Some("groupsign er"));
    assert_eq!(at(&mut text, 0, 4), None);
    assert_eq!(at(&mut text, 1, 0), Some("wordsign can"));
}

#[test]
fn words_and_lines_are_walked_over() {
    let mut text = editor(&["abc  d", "", "e"]);
    let start = Place::default();
    assert_eq!(text.word_from(start, true), Place { line: 0, cell: 5 });
    assert_eq!(text.word_from(Place { line: 0, cell: 6 }, false), Place { line: 0, cell: 5 });
    assert_eq!(text.after(Place { line: 0, cell: 6 }), Place { line: 1, cell: 0 });
    assert_eq!(text.before(Place { line: 2, cell: 0 }), Place { line: 1, cell: 0 });
    // A place that is not there is brought to the nearest that is.
    text.go(Place { line: 9, cell: 9 }, false);
    assert_eq!(text.caret(), Place { line: 2, cell: 1 });
    text.go(Place::default(), true);
    assert_eq!(text.selected().len(), 3);
    text.write(Cell::BLANK);
    assert_eq!(ascii(&text), [" "]);
}

#[test]
fn cells_typed_one_after_another_are_held_together_and_undone_one_by_one() {
    let mut text = editor(&[]);
    for cell in from_ascii("abc".repeat(200).as_str()).unwrap() {
        text.write(cell);
    }
    assert_eq!(text.done.held(), 1);
    // Elsewhere a new run begins.
    text.go(Place::default(), false);
    text.write(Cell::BLANK);
    assert_eq!(text.done.held(), 2);
    assert!(text.undo());
    for length in (0..600).rev() {
        assert!(text.undo());
        assert_eq!(text.offset(text.end()), length);
    }
    assert!(!text.undo());
}

#[test]
fn a_long_line_goes_on_and_stays_one_line_of_text() {
    let long = "ab ".repeat(300);
    let mut text = editor(&[&long]);
    assert!(text.lines().len() > 3);
    assert_eq!(ascii(&text), [long.as_str()]);
    // A line of one single word, longer than any part.
    let word = "x".repeat(700);
    text.select_all();
    text.insert(&[from_ascii(&word).unwrap()]);
    assert_eq!(ascii(&text), [word.as_str()]);
    assert_eq!(text.lines().iter().map(|line| line.print.as_str()).collect::<String>(), word);
}

proptest! {
    #[test]
    fn a_text_that_comes_by_parts_is_the_whole_text(
        lines in prop::collection::vec(prop::collection::vec(cell(), 0..50), 1..60),
        part in 1usize..20,
    ) {
        let whole = Editor::new(&lines, ReadOptions::default());
        let mut parts = Editor::new(&lines[..part.min(lines.len())], ReadOptions::default());
        parts.go(Place::default(), false);
        for more in lines[part.min(lines.len())..].chunks(part) {
            parts.append(more);
        }
        prop_assert_eq!(whole.lines(), parts.lines());
        prop_assert_eq!(whole.chunks(), parts.chunks());
        prop_assert_eq!(parts.caret(), Place::default());
        prop_assert!(!parts.undo());
    }
}

//! The room "Transcribe": the print line by line above the writing, marks at the cell, and the check before hand-in.

use std::rc::Rc;

use yew::prelude::*;

use super::braille_input::{BrailleInput, Given, LineMark, Written};
use super::cells_line::{CellMark, CellsLine};
use super::judge::{Verdict, judge};
use super::reads_as::ReadsAs;
use super::settings::use_settings;
use super::store;
use super::why::Why;
use crate::cell::{self, Cell};
use crate::exercise::Exercise;
use crate::manuscript::Sheet;
use crate::manuscript::check::{Asked, Item, Outcome, Scope, check};
use crate::manuscript::file::{self, BrailleFile, Notation};
use crate::manuscript::layout::Manuscript;
use crate::ueb::{self, Options};

const KEY: &str = "transcribe";
const VERSION: u32 = 1;

/// The notice that lies on the desk at first; written for this project.
const NOTICE: &str = "# The winter timetable\n\nFrom Monday the boats of the Skerry Line keep these hours. Be on the quay ten minutes before.\n\n- 7:15 Hallam Quay to Orrin\n- 10:30 Hallam Quay to Little Fenn\n- 16:45 Orrin to Hallam Quay\n\nThe galley is open on every crossing.\n";

/// What is kept between visits: the print, and the braille written, in braille ASCII.
#[derive(serde::Serialize, serde::Deserialize)]
#[serde(default)]
struct Kept {
    print: String,
    lines: Vec<String>,
}

impl Default for Kept {
    fn default() -> Self {
        Kept { print: NOTICE.to_owned(), lines: Vec::new() }
    }
}

/// What stands at one place of the work that is wrong.
#[derive(Clone, PartialEq)]
struct Finding {
    line: usize,
    print: String,
    say: &'static str,
    expected: Rc<[Cell]>,
}

/// What the room works on, when a teacher has set it.
#[derive(Properties, PartialEq)]
pub struct RoomProps {
    /// The exercise; the learner's own copy and work stay as they are.
    #[prop_or_default]
    pub set: Option<Rc<Exercise>>,
}

/// The room.
#[component]
pub fn Room(props: &RoomProps) -> Html {
    let settings = use_settings();
    let key = props.set.as_ref().map_or_else(|| KEY.to_owned(), |set| super::work::name_of(KEY, &set.text));
    let set = props.set.clone();
    let kept = use_memo(key.clone(), |key| {
        let print = set.map_or_else(|| NOTICE.to_owned(), |set| set.text.clone());
        store::load::<Kept>(key, VERSION).unwrap_or(Kept { print, lines: Vec::new() })
    });
    let print = use_state_eq(|| AttrValue::from(kept.print.clone()));
    let changing = use_state_eq(|| false);
    let written = use_state_eq(Written::default);
    let given = use_state_eq(|| Given {
        version: 0,
        lines: Rc::new(kept.lines.iter().filter_map(|line| cell::from_ascii(line)).collect()),
    });
    let marked = use_state_eq(|| None::<Rc<Vec<Finding>>>);
    let marks = use_state_eq(Rc::<Vec<LineMark>>::default);
    let checked = use_state_eq(|| None::<Rc<Vec<Item>>>);
    let volume = use_state_eq(|| false);
    let refused = use_state_eq(|| None::<String>);
    let reader = use_mut_ref(|| None::<gloo::file::callbacks::FileReader>);
    let contracted = settings.contracted;
    let sheet = Sheet { contracted, ..Sheet::default() };

    {
        let (written, print, refused) = (written.clone(), (*print).clone(), refused.clone());
        use_effect_with(((*written).clone(), print), move |(written, print)| {
            let (written, print) = (written.clone(), print.to_string());
            let timer = gloo::timers::callback::Timeout::new(600, move || {
                let lines = written.cells().iter().map(|line| cell::to_ascii(line)).collect();
                if let Err(error) = store::save(&key, VERSION, &Kept { print, lines }) {
                    refused.set(Some(error.words().to_owned()));
                }
            });
            move || drop(timer)
        });
    }

    // The copy, broken as a transcriber meets it: line n of the print above line n of the braille.
    let copy = use_memo(((*print).clone(), contracted), |(print, _)| copy_lines(print, sheet));
    let cells = written.cells();
    let row = written.caret.line;
    let left = sheet.cells as isize - written.caret.cell as isize;
    let file = BrailleFile::from_pages(&pages(&cells, sheet.lines));
    let brf = href(&file.to_text());
    let unicode = href(&file.written_in(Notation::Unicode).to_text());

    let on_change = {
        let (written, marks) = (written.clone(), marks.clone());
        Callback::from(move |new: Written| {
            if new.cells() != written.cells() {
                marks.set(Rc::default());
            }
            written.set(new);
        })
    };
    let mark = {
        let (cells, print, marked, marks) = (cells.clone(), (*print).clone(), marked.clone(), marks.clone());
        Callback::from(move |_: MouseEvent| {
            let (found, at) = findings(&print, &cells, contracted);
            marked.set(Some(Rc::new(found)));
            marks.set(Rc::new(at));
        })
    };
    let hand_in = {
        let (file, print, checked, volume) = (file.clone(), (*print).clone(), checked.clone(), *volume);
        Callback::from(move |_: MouseEvent| {
            let scope = if volume { Scope::Volume } else { Scope::Piece };
            checked.set(Some(Rc::new(check(
                &file,
                &Asked { scope, sheet, print: Some(&print), print_copy: false },
            ))));
        })
    };
    let open = {
        let (given, refused, marked, marks) = (given.clone(), refused.clone(), marked.clone(), marks.clone());
        Callback::from(move |event: Event| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            let Some(chosen) = input.files().and_then(|files| files.get(0)) else { return };
            let (given, refused) = (given.clone(), refused.clone());
            let (marked, marks) = (marked.clone(), marks.clone());
            let blob = gloo::file::File::from(chosen);
            if blob.size() > file::LIMIT as u64 {
                refused.set(Some(file::FileError::TooLarge(blob.size() as usize).to_string()));
                return;
            }
            *reader.borrow_mut() = Some(gloo::file::callbacks::read_as_bytes(&blob, move |bytes| {
                let opened = bytes.map_err(|error| error.to_string());
                match opened.and_then(|bytes| BrailleFile::open(&bytes).map_err(|error| error.to_string())) {
                    Ok(file) => {
                        marked.set(None);
                        marks.set(Rc::default());
                        refused.set(None);
                        let lines = file.cells().into_iter().flatten().collect();
                        given.set(Given { version: given.version + 1, lines: Rc::new(lines) });
                    }
                    Err(say) => refused.set(Some(say)),
                }
            }));
        })
    };
    let own_text = {
        let print = print.clone();
        Callback::from(move |event: InputEvent| {
            let area: web_sys::HtmlTextAreaElement = event.target_unchecked_into();
            print.set(area.value().into());
        })
    };
    let toggle = {
        let changing = changing.clone();
        Callback::from(move |_: MouseEvent| changing.set(!*changing))
    };
    let set_volume = {
        let volume = volume.clone();
        Callback::from(move |on| volume.set(on))
    };

    html! {
        <>
            if props.set.is_none() { <h1>{ "Transcribe" }</h1> }
            <div class="desk">
                <div class="copyholder">
                    <p class="print">
                        <span class="from">{ "Copy" }</span>
                        { copy.get(row).cloned().unwrap_or_else(|| "The copy ends here.".to_owned()) }
                    </p>
                    <div class="controls">
                        <span class="where">{ format!("page {}, line {} of {}", row / sheet.lines + 1, row % sheet.lines + 1, sheet.lines) }</span>
                        <span class="where" role="status" aria-label="Margin">
                            { if left < 0 { format!("{} cells over the margin", -left) } else if left <= 7 { format!("bell: {left} cells left") } else { format!("{left} cells left") } }
                        </span>
                    </div>
                </div>
                <BrailleInput given={(*given).clone()} {on_change} marks={(*marks).clone()} reads={!settings.hide_reading} />
                <div class="controls under">
                    <button type="button" class="quiet" onclick={toggle}>{ if *changing { "Put the copy away" } else { "Change the copy" } }</button>
                    <span class="push">
                        <button type="button" onclick={hand_in}>{ "Check before hand-in" }</button>
                        <button type="button" class="main" onclick={mark} disabled={written.is_empty()}>{ "Mark my work" }</button>
                    </span>
                </div>
                if let Some(say) = refused.as_ref() { <p class="alert" role="alert">{ say }</p> }
                if *changing {
                    <label>{ "The print to copy (# heading, - list item, *emphasis*)" }
                        <textarea rows="10" value={(*print).clone()} oninput={own_text} />
                    </label>
                }
                if let Some(found) = marked.as_ref() { <Found found={found.clone()} {contracted} /> }
                if let Some(items) = checked.as_ref() { <Checked items={items.clone()} /> }
                <ReadsAs written={(*written).clone()} />
                <div class="controls">
                    <a class="button" href={brf} download="work.brf">{ "Save as .brf" }</a>
                    <a class="button" href={unicode} download="work.txt">{ "Save as Unicode braille" }</a>
                    <label>{ "Open a braille file " }<input type="file" accept=".brf,.txt" onchange={open} /></label>
                    <super::write::Switch label="A whole volume, with its title page" on={*volume} set={set_volume} />
                </div>
            </div>
        </>
    }
}

/// A text as the address of a file to save.
pub fn href(text: &str) -> String {
    format!("data:text/plain;charset=utf-8,{}", String::from(web_sys::js_sys::encode_uri_component(text)))
}

/// Lines as pages.
fn pages(cells: &[Vec<Cell>], lines: usize) -> Vec<Vec<Vec<Cell>>> {
    cells.chunks(lines).map(<[Vec<Cell>]>::to_vec).collect()
}

/// The print, one block a line as long as its braille takes lines, so that the caret's line has its copy above it.
fn copy_lines(print: &str, sheet: Sheet) -> Vec<String> {
    let manuscript = Manuscript::from_print(print, sheet);
    let options = ueb::ReadOptions { contracted: sheet.contracted, ..ueb::ReadOptions::default() };
    let all = manuscript.lines();
    all.iter()
        .flatten()
        .map(|line| {
            let said = ueb::read(line, &options).print.trim().to_owned();
            if said.is_empty() { "(a blank line)".to_owned() } else { said }
        })
        .collect()
}

/// What is wrong in the work, and where: each word against the print, page numbers left out.
fn findings(print: &str, cells: &[Vec<Cell>], contracted: bool) -> (Vec<Finding>, Vec<LineMark>) {
    let (_, blocks) = crate::manuscript::source::read(print);
    let text: Vec<&str> = blocks
        .iter()
        .filter(|block| block.kind != crate::manuscript::source::Kind::PrintPage)
        .map(|block| block.print.as_str())
        .collect();
    let options = Options { contracted, marks: true };
    let mut all = Vec::new();
    let mut starts = Vec::new();
    for line in cells {
        starts.push(all.len());
        let text = crate::manuscript::number::at_end(line).map_or(line.len(), |(_, from)| from);
        all.extend_from_slice(&line[..text]);
        all.push(Cell::BLANK);
    }
    let (mut found, mut marks) = (Vec::new(), Vec::new());
    for mark in judge(&text.join(" "), &all, &options) {
        if mark.verdict == Verdict::Right {
            continue;
        }
        let line = starts.partition_point(|start| *start <= mark.written.start).saturating_sub(1);
        let start = starts.get(line).copied().unwrap_or_default();
        let (from, to) = (mark.written.start - start, mark.written.end.max(mark.written.start) - start);
        let say = match mark.verdict {
            Verdict::Extra => "is not in the print",
            Verdict::Missing => "is left out",
            _ => "is written otherwise",
        };
        let expected = ueb::transcribe(&mark.print, &options).into();
        marks.push(LineMark { line, mark: CellMark { from, to, number: found.len() + 1 } });
        found.push(Finding { line, print: mark.print, say, expected });
    }
    (found, marks)
}

#[derive(Properties, PartialEq)]
struct FoundProps {
    found: Rc<Vec<Finding>>,
    contracted: bool,
}

/// The findings, each with what was meant and why.
#[component]
fn Found(props: &FoundProps) -> Html {
    html! {
        <section class="marked" aria-label="Findings">
            <h2>{ if props.found.is_empty() { "Everything is right".to_owned() } else { format!("{} to look at", props.found.len()) } }</h2>
            <ol class="findings">
                { for props.found.iter().enumerate().map(|(at, finding)| html! {
                    <li>
                        <span class="no">{ at + 1 }</span>
                        <div>
                            <p>{ format!("Line {}: ", finding.line + 1) }<span class="kind">{ &finding.print }</span>{ format!(" {}.", finding.say) }</p>
                            if !finding.expected.is_empty() {
                                <details>
                                    <summary>{ "What the print asks for, and why" }</summary>
                                    <CellsLine cells={finding.expected.clone()} />
                                    <Why print={finding.print.clone()} contracted={props.contracted} />
                                </details>
                            }
                        </div>
                    </li>
                }) }
            </ol>
        </section>
    }
}

#[derive(Properties, PartialEq)]
struct CheckedProps {
    items: Rc<Vec<Item>>,
}

/// The check before hand-in, item by item; it can be printed.
#[component]
fn Checked(props: &CheckedProps) -> Html {
    let settings = use_settings();
    let fix = props.items.iter().filter(|item| item.result == Outcome::ToFix).count();
    html! {
        <section class="marked" aria-label="Check before hand-in">
            <h2>{ if fix == 0 { "The check passes".to_owned() } else { format!("{fix} to fix before hand-in") } }</h2>
            <table>
                <thead><tr><th>{ "Result" }</th><th>{ "Place" }</th><th>{ "What" }</th></tr></thead>
                <tbody>
                    { for props.items.iter().map(|item| {
                        let result = match item.result {
                            Outcome::Passed => "✓ passed",
                            Outcome::ToFix => "✗ to fix",
                            Outcome::YourCall => "? your call",
                        };
                        let place = match (item.page, item.line) {
                            (Some(page), Some(line)) => format!("page {page}, line {line}"),
                            _ => String::new(),
                        };
                        let say = if settings.dot_numbers_only { super::cells_line::without_glyphs(&item.say) } else { item.say.clone() };
                        html! { <tr><td>{ result }</td><td>{ place }</td><td>{ say }</td></tr> }
                    }) }
                </tbody>
            </table>
        </section>
    }
}

//! The room "Read": a sheet of cells in four looks, uncovered step by step, with clues.

use std::rc::Rc;

use gloo::file::callbacks::{FileReader, read_as_text};
use yew::prelude::*;

use super::cells_line::{CellMark, CellsLine, Look};
use super::data::{Stock, use_supply};
use super::learner::{now, use_learner};
use super::settings::use_settings;
use crate::cell::Cell;
use crate::practice::book::{self, Book, LineKind};
use crate::practice::clues;
use crate::practice::due::Known;
use crate::practice::record::Event;
use crate::practice::supply::{self, Supply};
use crate::ueb::{self, Options, ReadOptions, register};

/// A full line of braille paper (common practice).
const WIDTH: usize = 40;

/// Cells as lines of at most [`WIDTH`], broken at blanks.
fn wrap(cells: &[Cell]) -> Vec<Vec<Cell>> {
    let mut lines: Vec<Vec<Cell>> = vec![Vec::new()];
    for word in cells.split(|cell| cell.is_blank()) {
        let line = lines.last().map_or(0, Vec::len);
        if line > 0 && line + 1 + word.len() > WIDTH {
            lines.push(Vec::new());
        }
        for part in word.chunks(WIDTH) {
            if lines.last().is_some_and(|line| line.len() + part.len() >= WIDTH && !line.is_empty()) {
                lines.push(Vec::new());
            }
            if let Some(line) = lines.last_mut() {
                if !line.is_empty() {
                    line.push(Cell::BLANK);
                }
                line.extend_from_slice(part);
            }
        }
    }
    lines
}

/// What is on the sheet.
#[derive(Clone, PartialEq)]
struct Sheet {
    title: String,
    contracted: bool,
    lines: Vec<Vec<Cell>>,
    apart: Vec<String>,
}

fn of_print(title: &str, text: &str, contracted: bool) -> Sheet {
    let options = Options { contracted, marks: true };
    let lines = text.lines().flat_map(|line| wrap(&ueb::transcribe(line, &options))).collect();
    Sheet { title: title.to_owned(), contracted, lines, apart: Vec::new() }
}

fn of_file(title: &str, text: &str, contracted: bool) -> Sheet {
    match book::open(text, title.to_lowercase().ends_with(".brf")) {
        Book::Print(text) => of_print(title, &text, contracted),
        Book::Braille(all) => {
            let (text, apart): (Vec<_>, Vec<_>) =
                all.into_iter().partition(|(_, kind)| *kind == LineKind::Text);
            let apart = apart.into_iter().map(|(cells, _)| crate::cell::to_unicode(&cells)).collect();
            Sheet {
                title: title.to_owned(),
                contracted,
                lines: text.into_iter().map(|(cells, _)| cells).collect(),
                apart,
            }
        }
    }
}

const LOOKS: [&str; 4] = ["ink", "raised", "interpoint", "dot numbers"];

/// The room.
#[component]
pub fn Room() -> Html {
    match use_supply() {
        Stock::Coming => html! { <><h1>{ "Read" }</h1><p>{ "The texts are on their way …" }</p></> },
        Stock::Missing(why) => {
            html! { <><h1>{ "Read" }</h1><p class="alert" role="alert">{ why }</p></> }
        }
        Stock::Here(supply) => html! { <Inside {supply} /> },
    }
}

#[derive(Properties, PartialEq)]
struct InsideProps {
    supply: Rc<Supply>,
}

#[component]
fn Inside(props: &InsideProps) -> Html {
    let learner = use_learner();
    let settings = use_settings();
    let passages = &props.supply.passages;
    // The shelf, easiest first: by the share of cells that the learner knows, then by length.
    let shelf = {
        let (learner, supply) = (learner.clone(), props.supply.clone());
        use_memo((), move |()| {
            let passages = &supply.passages;
            let marks = learner.record.marks();
            let knows = |key: &str| learner.memories.known(key) >= Known::Known || marks.contains(key);
            let mut shelf: Vec<(usize, f64)> = passages
                .iter()
                .enumerate()
                .map(|(n, text)| (n, supply::known_share(&text.text, text.contracted, knows).0))
                .collect();
            shelf.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
            shelf
        })
    };
    let sheet = {
        let (shelf, passages) = (shelf.clone(), passages.clone());
        use_state_eq(move || {
            shelf.first().and_then(|(n, _)| passages.get(*n)).map_or_else(
                || of_print("", "", false),
                |text| of_print(&text.title, &text.text, text.contracted),
            )
        })
    };
    let look = use_state_eq(|| 0usize);
    let size = use_state_eq(|| 8.0f64);
    let guides = use_state_eq(|| false);
    let open = use_state_eq(|| 0usize);
    let line = use_state_eq(|| 0usize);
    let at = use_state_eq(|| 0usize);
    let shown = use_state_eq(|| 0usize);
    let since = use_mut_ref(now);
    let said = use_state_eq(String::new);
    let reader = use_mut_ref(|| None::<FileReader>);

    let put = {
        let (sheet, open, line, at, shown, since, said) = (
            sheet.clone(),
            open.clone(),
            line.clone(),
            at.clone(),
            shown.clone(),
            since.clone(),
            said.clone(),
        );
        Callback::from(move |new: Sheet| {
            sheet.set(new);
            open.set(0);
            line.set(0);
            at.set(0);
            shown.set(0);
            said.set(String::new());
            *since.borrow_mut() = now();
        })
    };
    let choose = {
        let (put, supply) = (put.clone(), props.supply.clone());
        Callback::from(move |event: Changed| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            if let Some(text) = select.value().parse::<usize>().ok().and_then(|n| supply.passages.get(n)) {
                put.emit(of_print(&text.title, &text.text, text.contracted));
            }
        })
    };
    let load = {
        let (put, reader, contracted) = (put.clone(), reader.clone(), settings.contracted);
        Callback::from(move |event: Changed| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            let Some(file) = input.files().and_then(|files| files.get(0)) else { return };
            let file = gloo::file::File::from(file);
            let (name, put) = (file.name(), put.clone());
            let task = read_as_text(&gloo::file::Blob::from(file), move |text| {
                if let Ok(text) = text {
                    put.emit(of_file(&name, &text, contracted));
                }
            });
            *reader.borrow_mut() = Some(task);
        })
    };
    let paste = {
        let (put, contracted) = (put.clone(), settings.contracted);
        Callback::from(move |event: Changed| {
            let area: web_sys::HtmlTextAreaElement = event.target_unchecked_into();
            if !area.value().trim().is_empty() {
                put.emit(of_file("Your text", &area.value(), contracted));
            }
        })
    };
    let set_look = {
        let look = look.clone();
        Callback::from(move |event: Changed| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            look.set(LOOKS.iter().position(|name| *name == select.value()).unwrap_or(0));
        })
    };
    let zoom = |by: f64| {
        let size = size.clone();
        Callback::from(move |_: MouseEvent| size.set((*size + by).clamp(4.0, 20.0)))
    };
    let toggle_guides = {
        let guides = guides.clone();
        Callback::from(move |_: Changed| guides.set(!*guides))
    };
    let uncover = |all: bool| {
        let (open, count) = (open.clone(), sheet.lines.len());
        Callback::from(move |_: MouseEvent| open.set(if all { count } else { (*open + 1).min(count) }))
    };
    let finish = {
        let (sheet, since, said, learner, open) =
            (sheet.clone(), since.clone(), said.clone(), learner.clone(), *open);
        Callback::from(move |_: MouseEvent| {
            let ms = now().saturating_sub(*since.borrow()).max(1);
            let cells: usize =
                sheet.lines.iter().map(|line| line.iter().filter(|cell| !cell.is_blank()).count()).sum();
            let words: usize =
                sheet.lines.iter().map(|l| l.split(|c| c.is_blank()).filter(|w| !w.is_empty()).count()).sum();
            let a_minute = |n: usize| n as u64 * 60_000 / ms;
            said.set(format!(
                "{words} words, {cells} cells: {} words and {} cells a minute, {open} lines uncovered.",
                a_minute(words),
                a_minute(cells)
            ));
            learner.add(Event::Text {
                title: sheet.title.clone(),
                words: words as u32,
                cells: cells as u32,
                ms,
                missed: open as u32,
            });
            *since.borrow_mut() = now();
        })
    };
    let options = ReadOptions { contracted: sheet.contracted, ..ReadOptions::default() };
    let current = sheet.lines.get(*line).cloned().unwrap_or_default();
    let reading = ueb::read(&current, &options);
    let clues = clues::for_cell(&current, *at, &reading.pieces);
    let more = {
        let shown = shown.clone();
        Callback::from(move |_: MouseEvent| shown.set((*shown + 1).min(6)))
    };
    let step = |by: isize| {
        let (at, shown, most) = (at.clone(), shown.clone(), current.len());
        Callback::from(move |_: MouseEvent| {
            at.set(at.saturating_add_signed(by).min(most.saturating_sub(1)));
            shown.set((*shown).min(1));
        })
    };
    let unknown = {
        let marks = learner.record.marks();
        let mut keys: Vec<&'static str> = Vec::new();
        for cells in sheet.lines.iter().take(25) {
            for sign in ueb::read(cells, &options).pieces.iter().filter_map(|piece| piece.sign) {
                let key = register::get(sign).key;
                if key != "space"
                    && learner.memories.known(key) < Known::Known
                    && !marks.contains(key)
                    && !keys.contains(&key)
                {
                    keys.push(key);
                }
            }
        }
        keys
    };
    html! {
        <>
            <h1>{ "Read" }</h1>
            <div class="controls">
                <label>{ "Text " }
                    <select onchange={choose}>
                        { for shelf.iter().filter_map(|(n, share)| Some((n, share, passages.get(*n)?))).map(|(n, share, text)| html! {
                            <option value={n.to_string()} selected={text.title == sheet.title}>{ format!("{} ({}, {}% known)", text.title, if text.contracted { "contracted" } else { "uncontracted" }, (share * 100.0).round() as u32) }</option>
                        }) }
                    </select>
                </label>
                <label>{ "Look " }
                    <select onchange={set_look}>{ for LOOKS.iter().enumerate().map(|(n, name)| html! { <option value={*name} selected={n == *look}>{ *name }</option> }) }</select>
                </label>
                <span><button type="button" aria-label="Smaller cells" onclick={zoom(-1.0)}>{ "−" }</button>{ " " }<button type="button" aria-label="Larger cells" onclick={zoom(1.0)}>{ "+" }</button></span>
                <label class="check"><input type="checkbox" checked={*guides} onchange={toggle_guides} />{ "Guide lines" }</label>
            </div>
            <div class="reading-room">
                <div>
                    <h2>{ &sheet.title }</h2>
                    <div class={classes!("read-sheet", (*guides).then_some("guides"))} style={format!("--dot:{}px", super::cells_line::decimal(*size))}>
                        { for sheet.lines.iter().enumerate().map(|(n, cells)| {
                            let pick = {
                                let (line, at, shown) = (line.clone(), at.clone(), shown.clone());
                                Callback::from(move |_: MouseEvent| { line.set(n); at.set(0); shown.set(0); })
                            };
                            let behind: Option<Rc<[Cell]>> = (*look == 2).then(|| {
                                let other = sheet.lines.get((n + 1) % sheet.lines.len().max(1)).cloned().unwrap_or_default();
                                let mut back: Vec<Cell> = other.iter().rev().map(|cell| cell.mirror()).collect();
                                back.resize(cells.len(), Cell::BLANK);
                                Rc::from(back)
                            });
                            let mark = (n == *line && *shown > 0).then_some(CellMark { from: *at, to: *at + 1, number: 1 });
                            html! {
                                <>
                                    <button type="button" class={classes!("read-line", (n == *line).then_some("now"))} onclick={pick} aria-current={(n == *line).then_some("true")}>
                                        <CellsLine cells={Rc::from(cells.as_slice())} dot={Some(*size)} {behind}
                                            look={if matches!(*look, 1 | 2) { Look::Raised } else { Look::Ink }}
                                            numbers={(*look == 3).then_some(true)} frames={(*guides).then_some(true)}
                                            marks={mark.into_iter().collect::<Vec<_>>()} />
                                    </button>
                                    if n < *open { <p class="print">{ ueb::read(cells, &options).print }</p> }
                                </>
                            }
                        }) }
                    </div>
                    if !sheet.apart.is_empty() {
                        <details><summary>{ "Running heads and page lines" }</summary>{ for sheet.apart.iter().map(|text| html! { <p>{ text }</p> }) }</details>
                    }
                    <div class="controls">
                        <button type="button" onclick={uncover(false)}>{ "Uncover a line" }</button>
                        <button type="button" onclick={uncover(true)}>{ "Uncover all" }</button>
                        <button type="button" class="main" onclick={finish}>{ "I have read it" }</button>
                    </div>
                    <p role="status">{ (*said).clone() }</p>
                </div>
                <aside aria-label="Clues">
                    <h2>{ "Clues" }</h2>
                    <p class="note">{ format!("Line {}, cell {}. Choose a line on the sheet.", *line + 1, *at + 1) }</p>
                    <div class="controls">
                        <button type="button" class="quiet" onclick={step(-1)}>{ "Cell before" }</button>
                        <button type="button" class="quiet" onclick={step(1)}>{ "Next cell" }</button>
                    </div>
                    <button type="button" onclick={more}>{ "A clue" }</button>
                    <ol class="clues">{ for clues.iter().take(*shown).map(|clue| html! { <li>{ &clue.text }</li> }) }</ol>
                    if !unknown.is_empty() {
                        <details><summary>{ format!("{} signs here to learn first", unknown.len()) }</summary><p>{ unknown.join(", ") }</p></details>
                    }
                </aside>
            </div>
            <details>
                <summary>{ "Read a text of your own" }</summary>
                <p>{ "A text file, a braille file (.brf) or Unicode braille. It stays on this computer." }</p>
                <p><label>{ "File " }<input type="file" accept=".txt,.brf,text/plain" onchange={load} /></label></p>
                <label>{ "Or paste it here" }<textarea rows="4" onchange={paste} /></label>
            </details>
        </>
    }
}

/// The browser's event; [`Event`] here is the record's.
type Changed = yew::prelude::Event;

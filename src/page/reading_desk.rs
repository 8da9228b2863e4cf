//! The reading desk: a braille file of the learner's own, cell by cell, with notes.

use std::rc::Rc;

use yew::prelude::*;

use super::braille_input::LineMark;
use super::cells_line::{self, CellMark};
use super::hand_in::{copy_text, href};
use super::held::use_held;
use super::open_file::OpenFile;
use super::settings::use_settings;
use super::sheet::{Sheet, said};
use super::store::{self, StoreError};
use super::write::{Switch, change};
use crate::cell::Cell;
use crate::exercise::proofread::Look;
use crate::manuscript::file::BrailleFile;
use crate::manuscript::notes::{At, Notes};
use crate::ueb::{self, ReadOptions};

const KEY: &str = "desk";
const VERSION: u32 = 1;
/// A file larger than this is not kept by the browser; its notes are.
const KEPT: usize = 1_000_000;

#[derive(Default, serde::Serialize, serde::Deserialize)]
#[serde(default)]
struct Kept {
    name: String,
    text: String,
    notes: Notes,
}

type Pages = Vec<Vec<Rc<[Cell]>>>;

fn pages_of(text: &str) -> Pages {
    let pages = BrailleFile::from_text(text).cells();
    pages.into_iter().map(|page| page.into_iter().map(Rc::from).collect()).collect()
}

fn keep(name: &str, text: &str, notes: &Notes) -> Result<(), StoreError> {
    let text = if text.len() <= KEPT { text.to_owned() } else { String::new() };
    store::save_any(KEY, VERSION, &Kept { name: name.to_owned(), text, notes: notes.clone() })
}

/// The desk.
#[component]
pub fn ReadingDesk() -> Html {
    let settings = use_settings();
    let kept = use_memo((), |()| store::load_any::<Kept>(KEY, VERSION).unwrap_or_default());
    let name = use_held(|| kept.name.clone());
    let text = use_held(|| Rc::<str>::from(kept.text.as_str()));
    let pages = use_memo((*text).clone(), |text| pages_of(text));
    let notes = use_held(|| kept.notes.clone());
    let page = use_held(usize::default);
    let at = use_held(|| (0usize, 0usize));
    let shown = use_held(bool::default);
    let look = use_held(Look::default);
    let trouble = use_held(Option::<String>::default);
    let copied = use_held(String::new);

    {
        let trouble = trouble.clone();
        let name = name.clone();
        use_effect_with(((*text).clone(), (*notes).clone()), move |(text, notes)| {
            if let Err(error) = keep(&name, text, notes) {
                trouble.set(Some(error.words().to_owned()));
            }
        });
    }
    let open = {
        let (text, notes, page, at, trouble) =
            (text.clone(), notes.clone(), page.clone(), at.clone(), trouble.clone());
        Callback::from(move |(_, new): (String, Rc<str>)| {
            text.set(new);
            notes.set(Notes::default());
            page.set(0);
            at.set((0, 0));
            trouble.set(None);
        })
    };
    let refuse = {
        let trouble = trouble.clone();
        Callback::from(move |why: String| trouble.set(Some(why)))
    };
    let opener = html! { <OpenFile label="Open a braille file" {refuse} {open} /> };
    if pages.iter().all(Vec::is_empty) {
        return html! {
            <section aria-label="Reading desk">
                <p>{ "Put a braille file of your own on the desk: .brf or Unicode braille. Nothing is planted in it. Go through it cell by cell, ask what a line reads as, and keep notes at the cells. It stays on this computer." }</p>
                if let Some(why) = trouble.as_ref() { <p class="alert" role="alert">{ why }</p> }
                { opener }
            </section>
        };
    }
    let count = pages.len();
    let number = (*page).min(count - 1);
    let lines = Rc::new(pages[number].clone());
    let here = At { page: number, line: at.0, cell: at.1 };
    let turn = |by: isize| {
        let (page, at) = (page.clone(), at.clone());
        Callback::from(move |_: MouseEvent| {
            page.set(number.saturating_add_signed(by).min(count - 1));
            at.set((0, 0));
        })
    };
    let on_move = {
        let at = at.clone();
        Callback::from(move |to| at.set(to))
    };
    let write = {
        let (name, text, notes) = (name.clone(), text.clone(), notes.clone());
        Callback::from(move |event: Event| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            let mut new = (*notes).clone();
            new.write(here, &input.value());
            // At once: a page that is being closed draws nothing any more. What is refused is told after the drawing.
            let _ = keep(&name, &text, &new);
            notes.set(new);
        })
    };
    let toggle = {
        let shown = shown.clone();
        Callback::from(move |_: MouseEvent| shown.set(!*shown))
    };
    let choose_look = {
        let look = look.clone();
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            look.set(Look::ALL.into_iter().find(|look| look.name() == select.value()).unwrap_or_default());
        })
    };
    let marks: Vec<LineMark> = notes
        .iter()
        .enumerate()
        .filter(|(_, (at, _))| at.page == number)
        .map(|(n, (at, _))| LineMark {
            line: at.line,
            mark: CellMark { from: at.cell, to: at.cell + 1, number: n + 1 },
        })
        .collect();
    let cells: Vec<Vec<Vec<Cell>>> = if notes.is_empty() {
        Vec::new()
    } else {
        pages.iter().map(|page| page.iter().map(|line| line.to_vec()).collect()).collect()
    };
    let list = notes.list(&cells);
    let copy = {
        let (copied, list) = (copied.clone(), list.clone());
        Callback::from(move |_: MouseEvent| {
            let (copied, list) = (copied.clone(), list.clone());
            wasm_bindgen_futures::spawn_local(async move { copied.set(copy_text(&list).await) });
        })
    };
    // Nobody is tested here: what the cell under the cursor means may be said.
    let meaning = lines.get(at.0).and_then(|line| {
        let read =
            ueb::read(line, &ReadOptions { contracted: settings.contracted, ..ReadOptions::default() });
        let piece = read.pieces.iter().find(|piece| piece.cells.contains(&at.1))?;
        Some(AttrValue::from(ueb::register::get(piece.sign?).name))
    });
    let reads = lines.get(at.0).filter(|_| *shown).map(|line| {
        let print =
            ueb::read(line, &ReadOptions { contracted: settings.contracted, ..ReadOptions::default() }).print;
        cells_line::shown(&print, &settings)
    });
    html! {
        <section aria-label="Reading desk">
            <div class="controls">
                <button type="button" onclick={turn(-1)} disabled={number == 0}>{ "Page before" }</button>
                <span role="status" aria-label="Page">{ format!("page {} of {count}", number + 1) }</span>
                <button type="button" onclick={turn(1)} disabled={number + 1 == count}>{ "Next page" }</button>
                <label>{ "Look " }
                    <select onchange={choose_look}>{ for Look::ALL.iter().map(|one| html! { <option value={one.name()} selected={*one == *look}>{ one.name() }</option> }) }</select>
                </label>
                <Switch label="Dot numbers only" on={settings.dot_numbers_only} set={change(&settings, |s, on| s.dot_numbers_only = on)} />
            </div>
            if let Some(why) = trouble.as_ref() { <p class="alert" role="alert">{ why }</p> }
            <div class="reading-room wide-sheet">
                <Sheet label="Braille on the desk" lines={lines.clone()} look={*look} marks={Rc::new(marks)} at={*at} {on_move} {meaning} />
                <aside aria-label="At the cursor" class="beside">
                    <p class="place">{ said(&lines, *at) }</p>
                    <button type="button" class="quiet" aria-expanded={if *shown { "true" } else { "false" }} onclick={toggle}>{ "What does this line read as?" }</button>
                    if let Some(reads) = reads { <p role="status" aria-label="Line reads as" class="serif">{ reads }</p> }
                    <label>{ "Note at this cell" }<br />
                        <input type="text" key={format!("{here:?}")} value={notes.at(here).unwrap_or_default().to_owned()} onchange={write} />
                    </label>
                </aside>
            </div>
            if !notes.is_empty() {
                <section class="marked" aria-label="Notes">
                    <h2>{ format!("Notes ({})", notes.len()) }</h2>
                    <pre class="list" tabindex="0" role="region" aria-label="List of notes">{ &list }</pre>
                    <div class="controls">
                        <button type="button" onclick={copy}>{ "Copy the list" }</button>
                        <a class="button" href={href(&list)} download="notes.txt">{ "Save the list" }</a>
                        <span role="status" aria-label="List copied" class="note">{ (*copied).clone() }</span>
                    </div>
                </section>
            }
            { opener }
        </section>
    }
}

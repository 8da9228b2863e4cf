//! The reading desk: a braille file of the learner's own, cell by cell, with notes.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::exercise::proofread::Look;
use crate::manuscript::file::BrailleFile;
use crate::manuscript::notes::{At, Notes};
use crate::page::browser::clipboard::copy_text;
use crate::page::browser::held::use_held;
use crate::page::browser::open_file::OpenFile;
use crate::page::browser::saving::href;
use crate::page::browser::store;
use crate::page::browser::undo_key::use_undo_key;
use crate::page::learner::settings::use_settings;
use crate::page::widgets::bring_back::BringBack;
use crate::page::widgets::cells_line::{self, CellMark, LineMark};
use crate::page::widgets::sheet::{Sheet, Steps, said};
use crate::page::widgets::switch::{Switch, change};
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

/// What the browser does not take is held, and the page says so.
fn keep(name: &str, text: &str, notes: &Notes) {
    let text = if text.len() <= KEPT { text.to_owned() } else { String::new() };
    let _ = store::save_any(KEY, VERSION, &Kept { name: name.to_owned(), text, notes: notes.clone() });
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
    // The file that another took the place of just now, with its notes.
    let before = use_held(Option::<(String, Rc<str>, Notes)>::default);
    let page = use_held(usize::default);
    let at = use_held(|| (0usize, 0usize));
    let shown = use_held(bool::default);
    let look = use_held(Look::default);
    let trouble = use_held(Option::<String>::default);
    let copied = use_held(String::new);

    {
        let name = name.clone();
        use_effect_with(((*text).clone(), (*notes).clone()), move |(text, notes)| keep(&name, text, notes));
    }
    let open = {
        let (name, text, notes, page, at, trouble) =
            (name.clone(), text.clone(), notes.clone(), page.clone(), at.clone(), trouble.clone());
        let before = before.clone();
        Callback::from(move |(called, new): (String, Rc<str>)| {
            if !text.is_empty() {
                before.set(Some(((*name).clone(), (*text).clone(), (*notes).clone())));
            }
            name.set(called);
            text.set(new);
            notes.set(Notes::default());
            page.set(0);
            at.set((0, 0));
            trouble.set(None);
        })
    };
    let bring_back = before.as_ref().map(|old| {
        let (name, text, notes, page, at) =
            (name.clone(), text.clone(), notes.clone(), page.clone(), at.clone());
        let (before, old) = (before.clone(), old.clone());
        Callback::from(move |()| {
            name.set(old.0.clone());
            text.set(old.1.clone());
            notes.set(old.2.clone());
            page.set(0);
            at.set((0, 0));
            before.set(None);
        })
    });
    use_undo_key(bring_back.clone());
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
                <BringBack what="The file before is set aside, with its notes. " back={bring_back} />
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
        let before = before.clone();
        Callback::from(move |event: Event| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            let mut new = (*notes).clone();
            new.write(here, &input.value());
            // At once: a page that is being closed draws nothing any more.
            keep(&name, &text, &new);
            notes.set(new);
            before.set(None);
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
        let read = ueb::read(
            line,
            &ReadOptions {
                contracted: settings.contracted,
                edition: settings.edition(),
                ..ReadOptions::default()
            },
        );
        let piece = read.pieces.iter().find(|piece| piece.cells.contains(&at.1))?;
        Some(AttrValue::from(ueb::register::get(piece.sign?).name))
    });
    let reads = lines.get(at.0).filter(|_| *shown).map(|line| {
        let print = ueb::read(
            line,
            &ReadOptions {
                contracted: settings.contracted,
                edition: settings.edition(),
                ..ReadOptions::default()
            },
        )
        .print;
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
            <BringBack what="The file before is set aside, with its notes. " back={bring_back} />
            if let Some(why) = trouble.as_ref() { <p class="alert" role="alert">{ why }</p> }
            <div class="reading-room wide-sheet">
                <Sheet label="Braille on the desk" lines={lines.clone()} look={*look} marks={Rc::new(marks)} at={*at} on_move={on_move.clone()} {meaning} />
                <aside aria-label="At the cursor" class="beside">
                    <p class="place">{ said(&lines, *at) }</p>
                    <Steps lines={lines.clone()} at={*at} on_move={on_move.clone()} />
                    <button type="button" class="quiet" aria-expanded={if *shown { "true" } else { "false" }} onclick={toggle}>{ "What does this line read as?" }</button>
                    <p role="status" aria-label="Line reads as" class="serif">{ reads.unwrap_or_default() }</p>
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

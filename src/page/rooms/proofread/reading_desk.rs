//! The reading desk: a braille file of the learner's own, cell by cell, with notes.

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::proofread::Look;
use crate::manuscript::file::BrailleFile;
use crate::manuscript::notes::{At, Notes};
use crate::page::browser::held::use_held;
use crate::page::browser::open_file::OpenFile;
use crate::page::browser::store;
use crate::page::browser::undo_key::use_undo_key;
use crate::page::learner::settings::use_settings;
use crate::page::rooms::proofread::notes_list::{NotesList, Pages};
use crate::page::states::reading_desk as states;
use crate::page::states::reading_desk::{Action, NotedFile};
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

fn pages_of(text: &str) -> Pages {
    let pages = BrailleFile::from_text(text).cells();
    pages.into_iter().map(|page| page.into_iter().map(Rc::from).collect()).collect()
}

/// What the browser does not take is held, and the page says so.
fn keep(file: &NotedFile) {
    let text = if file.text.len() <= KEPT { file.text.to_string() } else { String::new() };
    let _ = store::save_any(KEY, VERSION, &Kept { name: file.name.clone(), text, notes: file.notes.clone() });
}

impl Reducible for states::ReadingDesk {
    type Action = Action;

    fn reduce(self: Rc<Self>, action: Action) -> Rc<Self> {
        Rc::new((*self).clone().after(action))
    }
}

/// The desk as it was left, and the way to what comes after; it is kept whenever its text or its notes change.
#[hook]
fn use_desk() -> (UseReducerHandle<states::ReadingDesk>, Callback<Action>) {
    let desk = use_reducer_eq(|| {
        let Kept { name, text, notes } = store::load_any::<Kept>(KEY, VERSION).unwrap_or_default();
        let file = NotedFile { name, text: text.into(), notes };
        states::ReadingDesk { file, ..Default::default() }
    });
    use_effect_with(desk.file.clone(), keep);
    let dispatcher = desk.dispatcher();
    let act = use_callback((), move |action: Action, ()| dispatcher.dispatch(action));
    (desk, act)
}

/// The desk.
#[component]
pub fn ReadingDesk() -> Html {
    let settings = use_settings();
    let (desk, act) = use_desk();
    let pages = use_memo(desk.file.text.clone(), |text| pages_of(text));
    let shown = use_held(bool::default);
    let look = use_held(Look::default);
    let bring_back = desk.before.as_ref().map(|_| act.reform(|()| Action::BringBack));
    use_undo_key(bring_back.clone());
    let open = act.reform(|(name, text)| Action::Open(name, text));
    let refuse = act.reform(Action::Refuse);
    let opener = html! { <OpenFile label="Open a braille file" {refuse} {open} /> };
    if pages.iter().all(Vec::is_empty) {
        return html! {
            <section aria-label="Reading desk">
                <p>{ "Put a braille file of your own on the desk: .brf or Unicode braille. Nothing is planted in it. Go through it cell by cell, ask what a line reads as, and keep notes at the cells. It stays on this computer." }</p>
                if let Some(why) = &desk.refused { <p class="alert" role="alert">{ why }</p> }
                <BringBack what="The file before is set aside, with its notes. " back={bring_back} />
                { opener }
            </section>
        };
    }
    let count = pages.len();
    let number = desk.page.min(count - 1);
    let lines = Rc::new(pages[number].clone());
    let (line, cell) = desk.at;
    let here = At { page: number, line, cell };
    let turn = |by: isize| {
        let to = number.saturating_add_signed(by).min(count - 1);
        act.reform(move |_: MouseEvent| Action::Turn(to))
    };
    let on_move = act.reform(Action::Move);
    let write = {
        let (file, act) = (desk.file.clone(), act.clone());
        Callback::from(move |event: Event| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            let mut file = file.clone();
            file.notes.write(here, &input.value());
            // At once: a page that is being closed draws nothing any more.
            keep(&file);
            act.emit(Action::Note(here, input.value()));
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
    let notes = &desk.file.notes;
    let marks: Vec<LineMark> = notes
        .iter()
        .enumerate()
        .filter(|(_, (at, _))| at.page == number)
        .map(|(n, (at, _))| LineMark {
            line: at.line,
            mark: CellMark { from: at.cell, to: at.cell + 1, number: n + 1 },
        })
        .collect();
    let read = lines.get(line).map(|line| {
        let (contracted, edition) = (settings.contracted, settings.edition());
        ueb::read(line, &ReadOptions { contracted, edition, ..ReadOptions::default() })
    });
    // Nobody is tested here: what the cell under the cursor means may be said.
    let meaning = read.as_ref().and_then(|read| {
        let piece = read.pieces.iter().find(|piece| piece.cells.contains(&cell))?;
        Some(AttrValue::from(ueb::register::get(piece.sign?).name))
    });
    let reads = read.filter(|_| *shown).map(|read| cells_line::shown(&read.print, &settings));
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
            if let Some(why) = &desk.refused { <p class="alert" role="alert">{ why }</p> }
            <div class="reading-room wide-sheet">
                <Sheet label="Braille on the desk" lines={lines.clone()} look={*look} marks={Rc::new(marks)} at={desk.at} on_move={on_move.clone()} {meaning} />
                <aside aria-label="At the cursor" class="beside">
                    <p class="place">{ said(&lines, desk.at) }</p>
                    <Steps lines={lines.clone()} at={desk.at} on_move={on_move.clone()} />
                    <button type="button" class="quiet" aria-expanded={if *shown { "true" } else { "false" }} onclick={toggle}>{ "What does this line read as?" }</button>
                    <p role="status" aria-label="Line reads as" class="serif">{ reads.unwrap_or_default() }</p>
                    <label>{ "Note at this cell" }<br />
                        <input type="text" key={format!("{here:?}")} value={notes.at(here).unwrap_or_default().to_owned()} onchange={write} />
                    </label>
                </aside>
            </div>
            if !notes.is_empty() { <NotesList notes={notes.clone()} {pages} /> }
            { opener }
        </section>
    }
}

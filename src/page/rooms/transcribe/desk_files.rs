//! What lies beside the desk: the copy to choose or to type, the sheet's size, files in and out, the punching guide.

use std::rc::Rc;

use gloo::timers::callback::Timeout;
use yew::prelude::*;

use crate::cell::Cell;
use crate::manuscript::file::{BrailleFile, Notation};
use crate::manuscript::told::Told;
use crate::manuscript::{Sheet, reflow, slate, work};
use crate::page::browser::held::use_held;
use crate::page::browser::open_file::OpenFile;
use crate::page::browser::saving::{print_sheet, save};
use crate::page::learner::settings::use_settings;
use crate::page::surface::live::{Live, on_writing};
use crate::page::widgets::cells_line::CellsLine;
use crate::page::widgets::passage_choice::PassageChoice;
use crate::page::widgets::switch::{Switch, edition_switch};
use crate::ueb::{self, ReadOptions};

/// What the desk has, and what happens to it.
#[derive(Properties, PartialEq)]
pub struct DeskFilesProps {
    /// The work.
    pub live: Rc<Live>,
    /// The sheet.
    pub sheet: Sheet,
    /// The print.
    pub print: AttrValue,
    /// What of it can't be set.
    pub told: Rc<Vec<Told>>,
    /// Changes the print on the holder, as it is typed.
    pub set_print: Callback<AttrValue>,
    /// Lays other print on the holder.
    pub lay_print: Callback<AttrValue>,
    /// Lays other braille on the desk.
    pub put: Callback<Vec<Vec<Cell>>>,
    /// Says why a file is refused.
    pub refuse: Callback<String>,
    /// Checks a file as it stands, against the print too when asked.
    pub check_file: Callback<(BrailleFile, bool)>,
    /// Cells in a line and lines on a page.
    pub size: (usize, usize),
    /// The cells and lines of the sheet that the work was written for.
    pub written_for: (usize, usize),
    /// Changes them.
    pub set_size: Callback<(usize, usize)>,
    /// Whether the work is a whole volume.
    pub volume: bool,
    /// Says whether it is.
    pub set_volume: Callback<bool>,
}

/// A file's lines as the surface holds them: every page as long as the sheet, so that pages stay pages.
pub fn lines_of(file: &BrailleFile, sheet: Sheet) -> Vec<Vec<Cell>> {
    let pages = file.cells();
    let count = pages.len();
    let mut lines = Vec::new();
    for (at, mut page) in pages.into_iter().enumerate() {
        if at + 1 < count {
            page.resize(page.len().max(sheet.lines), Vec::new());
        }
        lines.extend(page);
    }
    lines
}

/// Lays a braille file on the desk; says so where some of its characters are no cells.
fn lay(text: &str, sheet: Sheet, put: &Callback<Vec<Vec<Cell>>>, refuse: &Callback<String>) {
    let file = BrailleFile::from_text(text);
    let strange =
        file.pages().flatten().flat_map(|line| line.chars()).filter(|c| file.cell(*c).is_none()).count();
    // A long file is drawn in a turn of its own.
    let (put, refuse, lines) = (put.clone(), refuse.clone(), lines_of(&file, sheet));
    Timeout::new(0, move || {
        put.emit(lines);
        if strange > 0 {
            refuse.emit(format!("{strange} characters of this file are no braille cells and were left out. “Check a file as it stands” names their places."));
        }
    })
    .forget();
}

/// What becomes of a file dropped on the desk: braille, told by its name or its characters, is laid on it; anything else
/// is the print to copy.
pub fn dropped(
    sheet: Sheet,
    put: Callback<Vec<Vec<Cell>>>,
    lay_print: Callback<AttrValue>,
    refuse: Callback<String>,
) -> Callback<(String, Rc<str>)> {
    Callback::from(move |(name, text): (String, Rc<str>)| {
        let brf = name.to_ascii_lowercase().ends_with(".brf");
        if brf || BrailleFile::from_text(&text).notation == Notation::Unicode {
            lay(&text, sheet, &put, &refuse);
        } else {
            lay_print.emit(AttrValue::from(text.to_string()));
        }
    })
}

/// Copy, sheet, files.
#[component]
pub fn DeskFiles(props: &DeskFilesProps) -> Html {
    let settings = use_settings();
    let guide = use_held(|| None::<Rc<Vec<Vec<Cell>>>>);
    let against = use_held(bool::default);
    let DeskFilesProps { live, sheet, .. } = props;
    let sheet = *sheet;
    let passage =
        props.lay_print.reform(|(title, text): (AttrValue, AttrValue)| format!("# {title}\n\n{text}").into());
    let choose = Callback::from(move |chosen: Option<(AttrValue, AttrValue)>| {
        if let Some(chosen) = chosen {
            passage.emit(chosen);
        }
    });
    let typed = {
        let set_print = props.set_print.clone();
        Callback::from(move |event: InputEvent| {
            let area: web_sys::HtmlTextAreaElement = event.target_unchecked_into();
            set_print.emit(area.value().into());
        })
    };
    let open_print = {
        let lay_print = props.lay_print.clone();
        Callback::from(move |(_, text): (String, Rc<str>)| lay_print.emit(AttrValue::from(text.to_string())))
    };
    let open_braille = {
        let (put, refuse) = (props.put.clone(), props.refuse.clone());
        Callback::from(move |(_, text): (String, Rc<str>)| {
            lay(&text, sheet, &put, &refuse);
        })
    };
    let check_file = {
        let (check, against) = (props.check_file.clone(), *against);
        Callback::from(move |(_, text): (String, Rc<str>)| {
            check.emit((BrailleFile::from_text(&text), against))
        })
    };
    let set_against = {
        let against = against.clone();
        Callback::from(move |on| against.set(on))
    };
    let file = {
        let live = live.clone();
        move || BrailleFile::from_pages(&work::finished(live.now().cells(), sheet))
    };
    let brf = {
        let file = file.clone();
        Callback::from(move |_: MouseEvent| save("work.brf", &file().to_text()))
    };
    let unicode = {
        let file = file.clone();
        Callback::from(move |_: MouseEvent| save("work.txt", &file().written_in(Notation::Unicode).to_text()))
    };
    let plain = {
        let live = live.clone();
        let save_print = Callback::from(move |()| {
            let read = ReadOptions {
                contracted: sheet.contracted,
                edition: sheet.edition,
                ..ReadOptions::default()
            };
            let print: Vec<String> =
                live.now().cells().iter().map(|line| ueb::read(line, &read).print).collect();
            save("work-in-print.txt", &(print.join("\n") + "\n"));
        });
        on_writing(&props.live, save_print).reform(|_: MouseEvent| ())
    };
    let punch = {
        let (guide, live) = (guide.clone(), live.clone());
        let draw = Callback::from(move |()| {
            let lines = work::finished(live.now().cells(), sheet).concat();
            guide.set(Some(Rc::new(slate::guide(&lines, sheet.cells))));
        });
        on_writing(&props.live, draw).reform(|_: MouseEvent| ())
    };
    let size = |which: usize| {
        let (set_size, size) = (props.set_size.clone(), props.size);
        Callback::from(move |event: Event| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            if let Ok(value) = input.value().parse::<usize>() {
                let wanted = if which == 0 { (value, size.1) } else { (size.0, value) };
                let sheet = Sheet { cells: wanted.0, lines: wanted.1, ..Sheet::default() }.bounded();
                set_size.emit((sheet.cells, sheet.lines));
            }
        })
    };
    let reflow_now = {
        let (put, live, (cells, lines)) = (props.put.clone(), live.clone(), props.written_for);
        let set_anew = Callback::from(move |()| {
            let old = Sheet { cells, lines, ..sheet };
            let anew = reflow::book_anew(&work::finished(live.now().cells(), old), old, sheet);
            put.emit(anew.lines().into_iter().flatten().collect());
        });
        on_writing(&props.live, set_anew).reform(|_: MouseEvent| ())
    };
    html! {
        <>
            <details class="more">
                <summary>{ match props.told.len() { 0 => "The copy".to_owned(), count => format!("The copy ({count} {} of it can’t be set)", if count == 1 { "place" } else { "places" }) } }</summary>
                <div class="set">
                    <PassageChoice label="A text of this page" first="choose" contracted={sheet.contracted} on_choose={choose} />
                    <OpenFile label="Open print (.txt, .md)" accept=".txt,.md,text/plain,text/markdown" open={open_print} refuse={props.refuse.clone()} />
                </div>
                <label>{ "The print to copy" }
                    <textarea rows="10" value={props.print.clone()} oninput={typed} />
                </label>
                { not_set(&props.told) }
                <p class="note">{ "# centred heading, ## cell-5, ### cell-7, - list item, *italic*, **bold**, <u>underline</u>. An empty line parts paragraphs. Between two lines --- at the top: title, author, publisher, copyright, transcriber, year, volumes, volume (which of them this is), running-head, each as “title: words”. A form feed with a number begins a print page." }</p>
            </details>
            <details class="more">
                <summary>{ "Sheet and files" }</summary>
                <div class="set">
                    <label>{ "Cells in a line" }<br /><input type="number" min="12" max="60" value={props.size.0.to_string()} onchange={size(0)} /></label>
                    <label>{ "Lines on a page" }<br /><input type="number" min="5" max="40" value={props.size.1.to_string()} onchange={size(1)} /></label>
                    <Switch label="A whole volume, with its title page" on={props.volume} set={props.set_volume.clone()} />
                    { edition_switch(&settings) }
                </div>
                <div class="controls">
                    <button type="button" onclick={brf}>{ "Save as .brf" }</button>
                    <button type="button" onclick={unicode}>{ "Save as Unicode braille" }</button>
                    <button type="button" onclick={plain}>{ "Save what it reads as" }</button>
                </div>
                <OpenFile label="Open a braille file" accept=".brf,.txt,text/plain" open={open_braille} refuse={props.refuse.clone()} />
                <OpenFile label="Check a file as it stands" accept=".brf,.txt,text/plain" open={check_file} refuse={props.refuse.clone()} />
                <Switch label="Hold that file against the copy as well" on={*against} set={set_against} />
                <div class="controls">
                    <button type="button" onclick={reflow_now}>{ "Set my braille anew on this sheet" }</button>
                    <button type="button" onclick={punch}>{ "A punching guide for the slate" }</button>
                </div>
                if let Some(lines) = guide.as_ref() {
                    <section class="printable guide" data-sheet="guide" aria-label="Punching guide">
                        <p>{ "Punch from the right, line for line: each line is mirrored as the slate has it." }</p>
                        { for lines.iter().enumerate().map(|(at, line)| html! {
                            <div class={classes!("guide-line", (at > 0 && at % sheet.lines == 0).then_some("new-page"))}>
                                <span class="no">{ at % sheet.lines + 1 }</span><CellsLine cells={Rc::from(line.as_slice())} dot={Some(5.0)} frames={Some(true)} />
                            </div>
                        }) }
                        <div class="controls"><button type="button" onclick={Callback::from(|_: MouseEvent| print_sheet("guide"))}>{ "Print the guide" }</button></div>
                    </section>
                }
            </details>
        </>
    }
}

/// Places that are listed; more are counted.
const LISTED: usize = 40;

/// What of the print can't be set, each place with its line.
fn not_set(told: &[Told]) -> Html {
    if told.is_empty() {
        return Html::default();
    }
    html! {
        <section class="not-set" aria-label="What can’t be set">
            <p>{ if told.len() == 1 { "This place of the print can’t be set as it stands. Mend it in the print, or decide by hand what stands there:" }
                else { "These places of the print can’t be set as they stand. Mend them in the print, or decide by hand what stands there:" } }</p>
            <ul>
                { for told.iter().take(LISTED).map(|told| html! { <li>{ format!("{told}") }</li> }) }
                if told.len() > LISTED { <li>{ format!("and {} more", told.len() - LISTED) }</li> }
            </ul>
        </section>
    }
}

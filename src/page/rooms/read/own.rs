//! Texts of the learner's own: put on the shelf from a file or pasted; opened page by page; asked about older signs; measured.

use std::cell::RefCell;
use std::rc::Rc;

use gloo::timers::callback::Timeout;
use wasm_bindgen::JsValue;
use yew::prelude::*;

use crate::page::browser::clock::now;
use crate::page::browser::held::use_held;
use crate::page::browser::long_work::{self, Pieces, in_pieces};
use crate::page::browser::open_file::OpenFile;
use crate::page::browser::store;
use crate::page::browser::stored::{Stored, fill, object, part};
use crate::page::learner::journal::LearnerHandle;
use crate::page::rooms::read::progress::Finished;
use crate::page::rooms::read::reader::Reader;
use crate::page::states::hand_over::Piece;
use crate::page::widgets::cells_line::without_glyphs;
use crate::page::widgets::elsewhere::use_opened;
use crate::practice::book::{self, Book};
use crate::practice::reading::{HEIGHT, Laying, Measure, Reading, seems_older};

const OWN: &str = "shelf";
/// A pasted text that is not on the shelf yet.
const PASTED: &str = "work.pasted";
/// The line under which a text of one's own is put on the shelf.
pub const OWN_LINE: &str = "Read a text of your own";

/// How the older signs of a text are taken (section 1.3 of the rules).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Older {
    /// Nobody was asked.
    #[default]
    Unasked,
    /// They are read.
    Read,
    /// The text is read as UEB.
    Not,
}

impl Stored for Older {
    fn take(value: &JsValue) -> Option<Self> {
        Some(match u32::take(value)? {
            1 => Older::Read,
            2 => Older::Not,
            _ => Older::Unasked,
        })
    }
    fn give(&self) -> JsValue {
        (*self as u32).give()
    }
}

/// A text of the learner's own, as this browser keeps it.
#[derive(Clone, PartialEq)]
pub struct Own {
    /// Its title: a file's name, or how the pasted text begins.
    pub title: String,
    text: Rc<str>,
    brf: bool,
    /// Contracted or uncontracted.
    pub contracted: bool,
    older: Older,
}

impl Stored for Own {
    fn take(value: &JsValue) -> Option<Self> {
        let mut older = Older::default();
        fill(value, "older", &mut older)?;
        Some(Own {
            title: part(value, "title")?,
            text: part::<String>(value, "text")?.into(),
            brf: part(value, "brf")?,
            contracted: part(value, "contracted")?,
            older,
        })
    }
    fn give(&self) -> JsValue {
        object(&[
            ("title", self.title.give()),
            ("text", (&*self.text).into()),
            ("brf", self.brf.give()),
            ("contracted", self.contracted.give()),
            ("older", self.older.give()),
        ])
    }
}

impl Own {
    /// The same text; where it has this title, its older signs taken as was answered.
    pub fn answered(&self, title: &str, older: Older) -> Own {
        Own { older: if self.title == title { older } else { self.older }, ..self.clone() }
    }
}

/// The learner's own texts as this browser keeps them now, also those that another tab has put on the shelf.
pub fn kept() -> Vec<Own> {
    store::load(OWN, 1).unwrap_or_default()
}

/// Keeps them.
pub fn keep(all: &Vec<Own>) -> Result<(), store::StoreError> {
    store::save(OWN, 1, all)
}

/// Letters of a text of print that are laid out before its first page is drawn, and at a time afterwards.
const FIRST: usize = 3_000;
const STEP: usize = 2_000;
/// Pages that are measured at a time.
const PAGES: usize = 8;
/// What is laid out meanwhile is drawn so often, in milliseconds.
const DRAWN: u64 = 400;

/// A text, and what is left to be laid out of it.
fn opened(own: &Own) -> (Rc<Reading>, RefCell<Option<Laying>>) {
    match book::open(&own.text, own.brf, HEIGHT) {
        Book::Braille(sheets) => {
            let reading = Reading::of_sheets(&own.title, sheets, own.contracted);
            (Rc::new(reading.with_older(own.older == Older::Read)), RefCell::new(None))
        }
        Book::Print(print) => {
            let mut laying = Laying::new(&own.title, print.into(), own.contracted);
            laying.go_on(FIRST);
            (Rc::new(laying.reading()), RefCell::new(Some(laying).filter(|laying| !laying.is_done())))
        }
    }
}

/// What the reader of a text of one's own needs.
#[derive(Properties, PartialEq)]
pub struct OwnReaderProps {
    /// The text.
    pub own: Own,
    /// The learner.
    pub learner: LearnerHandle,
    /// Called when a page was read to its end.
    pub on_finish: Callback<Finished>,
    /// Called with how its older signs are to be taken.
    pub on_older: Callback<Older>,
    /// Called when it is to leave the shelf.
    pub on_remove: Callback<()>,
}

/// A text of the learner's own on its sheet.
#[component]
pub fn OwnReader(props: &OwnReaderProps) -> Html {
    let OwnReaderProps { own, learner, on_finish, on_older, on_remove } = props;
    let begun = use_memo(own.clone(), opened);
    let further = use_held(Option::<Rc<Reading>>::default);
    let laying = use_held(|| begun.1.borrow().is_some());
    {
        let (begun, further, laying) = (begun.clone(), further.clone(), laying.clone());
        use_effect_with(own.clone(), move |_| {
            further.set(None);
            let rest = begun.1.take();
            laying.set(rest.is_some());
            let work = rest.map(|mut rest| {
                let mut drawn = now();
                in_pieces(move || {
                    rest.go_on(STEP);
                    if rest.is_done() || now() > drawn + DRAWN {
                        drawn = now();
                        further.set(Some(Rc::new(rest.reading())));
                        laying.set(!rest.is_done());
                    }
                    !rest.is_done()
                })
            });
            move || drop(work)
        });
    }
    let reading = (*further).clone().unwrap_or_else(|| begun.0.clone());
    let measured = use_measured(&reading, learner, *laying);
    let asks = use_held(bool::default);
    {
        // After the first page is drawn.
        let (asks, reading, unasked) = (asks.clone(), begun.0.clone(), own.older == Older::Unasked);
        use_effect_with(own.clone(), move |_| {
            asks.set(false);
            let timer = unasked.then(|| Timeout::new(0, move || asks.set(seems_older(&reading))));
            move || drop(timer)
        });
    }
    let take = |older: Older| on_older.reform(move |_: MouseEvent| older);
    html! {
        <Reader {reading} learner={learner.clone()} on_finish={on_finish.clone()} growing={*laying}>
            if let Some((share, unknown)) = *measured {
                <p class="note">{ format!("In the whole text you know {}% of the cells; {unknown} of its signs are new to you.", (share * 100.0) as u32) }</p>
            }
            if *asks {
                <section class="alert" aria-label="Older signs">
                    <p>{ "This book seems to have signs that Unified English Braille has given up, such as those for to, by and ble (section 1.3 of its rules). Shall they be read?" }</p>
                    <button type="button" class="main" onclick={take(Older::Read)}>{ "Read the older signs" }</button>{ " " }
                    <button type="button" onclick={take(Older::Not)}>{ "Read it as UEB" }</button>
                </section>
            }
            if own.older == Older::Read {
                <p class="note">{ "Older signs are read in this book, and underlined. " }<button type="button" class="quiet" onclick={take(Older::Not)}>{ "Read it as UEB" }</button></p>
            }
            <p><button type="button" class="quiet" onclick={on_remove.reform(|_: MouseEvent| ())}>{ "Take it off the shelf" }</button></p>
        </Reader>
    }
}

/// The share of the whole text that the learner knows, and how many signs of it are unknown: measured in pieces once it is
/// laid out.
#[hook]
fn use_measured(reading: &Rc<Reading>, learner: &LearnerHandle, laying: bool) -> Rc<Option<(f64, usize)>> {
    let found = use_held(|| Rc::new(Option::<(f64, usize)>::None));
    let work = use_mut_ref(Option::<Pieces>::default);
    {
        let (found, learner, work) = (found.clone(), learner.clone(), work.clone());
        use_effect_with((reading.clone(), laying), move |(reading, laying)| {
            let (reading, mut measure) = (reading.clone(), Measure::default());
            let piece = move || {
                measure.go_on(&reading, PAGES, learner.knows());
                let more = measure.pages < reading.count();
                if !more {
                    found.set(Rc::new(Some(measure.known())));
                }
                more
            };
            *work.borrow_mut() = (!laying).then(|| in_pieces(piece));
            move || drop(work.take())
        });
    }
    (*found).clone()
}

/// The title under which a text goes on the shelf: that of the same text, or one that no other has.
fn free_title(all: &[Own], title: &str, text: &str) -> String {
    let mut free = title.to_owned();
    for n in 2.. {
        match all.iter().find(|old| old.title == free) {
            Some(old) if &*old.text != text => free = format!("{title} ({n})"),
            _ => break,
        }
    }
    free
}

/// The first words of a pasted text, in print though it be braille.
fn beginning(text: &str, contracted: bool) -> String {
    let words: Vec<String> = if without_glyphs(text) == text {
        text.split_whitespace().take(5).map(str::to_owned).collect()
    } else {
        let reading = Reading::of_file("", text, false, contracted);
        reading.words(0).iter().flatten().take(5).map(|word| without_glyphs(&word.print)).collect()
    };
    words.join(" ").chars().take(40).collect()
}

/// What putting a text on the shelf needs.
#[derive(Properties, PartialEq)]
pub struct OwnTextProps {
    /// Contracted or not.
    pub contracted: bool,
    /// Called with that.
    pub on_contracted: Callback<bool>,
    /// Called with what stands there then, and the title that is new.
    pub take: Callback<(Vec<Own>, String)>,
}

/// A file or a pasted text goes on the shelf.
#[component]
pub fn OwnText(props: &OwnTextProps) -> Html {
    let (open_at_once, line) = use_opened(Piece::OwnText);
    let said = use_held(String::new);
    let pasted = use_held(|| store::load::<String>(PASTED, 1).unwrap_or_default());
    let contracted = props.contracted;
    let take = {
        let (on_take, said) = (props.take.clone(), said.clone());
        Rc::new(move |title: String, text: Rc<str>, from_file: bool| {
            let brf = title.to_ascii_lowercase().ends_with(".brf");
            let mut all = kept();
            let title = free_title(&all, &title, &text);
            all.retain(|old| old.title != title);
            // A long file is kept when its first page is drawn: that takes a moment, and the file is there meanwhile.
            let later = from_file && text.len() >= long_work::LONG;
            all.push(Own { title: title.clone(), text, brf, contracted, older: Older::Unasked });
            on_take.emit((all.clone(), title.clone()));
            let said = said.clone();
            let keep = move || {
                said.set(match keep(&all) {
                    Ok(()) => format!("{title} stands on your shelf now, on this computer only."),
                    Err(error) => format!("{title} is open. {}", error.words()),
                });
            };
            if later {
                Timeout::new(50, keep).forget();
            } else {
                keep();
            }
        })
    };
    let open = {
        let take = take.clone();
        Callback::from(move |(title, text): (String, Rc<str>)| take(title, text, true))
    };
    let refuse = {
        let said = said.clone();
        Callback::from(move |why: String| said.set(why))
    };
    let put_pasted = {
        let (take, pasted) = (take.clone(), pasted.clone());
        Callback::from(move |_: MouseEvent| {
            if !pasted.trim().is_empty() {
                let (take, pasted) = (take.clone(), pasted.clone());
                long_work::on(pasted.len(), move || {
                    take(
                        format!("Pasted: {}", beginning(&pasted, contracted)),
                        Rc::from(pasted.as_str()),
                        false,
                    );
                    store::forget(PASTED);
                    pasted.set(String::new());
                });
            }
        })
    };
    let on_paste = {
        let pasted = pasted.clone();
        Callback::from(move |event: InputEvent| {
            let text = event.target_unchecked_into::<web_sys::HtmlTextAreaElement>().value();
            // What the browser does not take is held, and the page says so.
            let _ = store::save(PASTED, 1, &text);
            pasted.set(text);
        })
    };
    let switch = props.on_contracted.reform(move |_: Event| !contracted);
    html! {
        <>
            <p role="status">{ (*said).clone() }</p>
            <details class="own-text" open={open_at_once}>
                <summary ref={line}>{ OWN_LINE }</summary>
                <p>{ "A text file, Markdown, a braille file (.brf) or Unicode braille. It stays on this computer." }</p>
                <label class="check"><input type="checkbox" checked={contracted} onchange={switch} />{ "Contracted" }</label>
                <OpenFile label="File" {open} {refuse} at_once=true />
                <label>{ "Or paste it here" }<textarea rows="4" value={(*pasted).clone()} oninput={on_paste} /></label>
                <p><button type="button" onclick={put_pasted}>{ "Read this" }</button></p>
            </details>
        </>
    }
}

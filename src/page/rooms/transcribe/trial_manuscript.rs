//! The trial manuscript at the desk: print, draft, rounds of proofreading, check, parcel, and the grader's answer.

use std::rc::Rc;

use crc::{CRC_32_ISO_HDLC, Crc, NoTable};
use yew::prelude::*;

use crate::manuscript::file::BrailleFile;
use crate::manuscript::volumes::Book;
use crate::manuscript::{Sheet, work};
use crate::page::browser::clock::today;
use crate::page::browser::held::{Held, use_held};
use crate::page::browser::quiet::Quiet;
use crate::page::browser::saving::save;
use crate::page::browser::store;
use crate::page::rooms::transcribe::desk_checks::Checked;
use crate::page::states::trial_manuscript::{Action, TrialManuscript, checked, pages, parts, written_of};
use crate::page::surface::live::{Live, on_writing};

const KEY: &str = "trial.manuscript";
const VERSION: u32 = 1;
/// What is written is counted when nothing was written for so long, in milliseconds.
const COUNTED: u64 = 1500;

/// The desk's work, and the ways to its other parts.
#[derive(Properties, PartialEq)]
pub struct TrialDeskProps {
    /// What is being written.
    pub live: Rc<Live>,
    /// The sheet.
    pub sheet: Sheet,
    /// The print.
    pub print: AttrValue,
    /// What was checked last.
    pub checked: Option<Checked>,
    /// Checks all of it as a whole volume.
    pub check: Callback<()>,
}

/// The work as a file.
fn file_of(live: &Live, sheet: Sheet) -> BrailleFile {
    BrailleFile::from_pages(&work::finished(live.now().cells(), sheet))
}

fn sum(text: &str) -> u32 {
    Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC).checksum(text.as_bytes())
}

/// What is kept of the manuscript, and the way to what comes after. Another tab may have kept more.
#[hook]
fn use_trial() -> (Held<TrialManuscript>, Callback<Action>) {
    let load = || store::load_any::<TrialManuscript>(KEY, VERSION);
    let trial = use_held(|| load().unwrap_or_default());
    let act = {
        let trial = trial.clone();
        Callback::from(move |action| {
            let next = load().unwrap_or_else(|| (*trial).clone()).after(action, &today());
            // What the browser does not take is held, and the page says so.
            let _ = store::save_any(KEY, VERSION, &next);
            trial.set(next);
        })
    };
    (trial, act)
}

/// Pages written, and the check sum of the work, counted when nothing was written for a moment; none before the first count.
#[hook]
fn use_written(live: &Rc<Live>, sheet: Sheet) -> Option<(usize, u32)> {
    let written = use_held(|| None::<(usize, u32)>);
    {
        let (written, live) = (written.clone(), live.clone());
        use_effect_with((live, sheet), move |(live, sheet)| {
            let (of, sheet) = (live.clone(), *sheet);
            let count = Callback::from(move |()| {
                let file = file_of(&of, sheet);
                let filled = |page: &&[String]| page.iter().any(|line| !line.trim().is_empty());
                let pages = file.pages().filter(filled).count();
                written.set(Some((pages, sum(&file.to_text()))));
            });
            let quiet = Quiet::new(COUNTED, 10 * COUNTED, count);
            let (live, number) = (live.clone(), live.follow(Callback::from(move |_| quiet.again())));
            move || live.leave(number)
        });
    }
    *written
}

/// The manuscript, step by step.
#[component]
pub fn TrialDesk(props: &TrialDeskProps) -> Html {
    let (trial, act) = use_trial();
    let counted = use_written(&props.live, props.sheet);
    let print = sum(&props.print);
    let book = use_memo((props.print.clone(), props.sheet), |(print, sheet)| {
        parts(&Book::from_print(print, *sheet))
    });
    let made = book.iter().flatten().map(|part| part.pages).sum();
    {
        let act = act.clone();
        // Pages of other print are none of it.
        let its = !trial.begun.is_empty() && trial.print == print;
        use_effect_with((counted.map(|it| it.0), its), move |(written, its)| {
            if let Some(written) = written.filter(|pages| *pages > 0 && *its) {
                act.emit(Action::Wrote(written));
            }
        });
    }
    {
        let act = act.clone();
        use_effect_with(props.checked.clone(), move |now| {
            // The sum is of what was checked: a rule that is switched checks that again, whatever was written since.
            if let Some((items, file)) = now.as_ref().and_then(Checked::of_volume) {
                act.emit(Action::Checked(checked(items, sum(&file.to_text()))));
            }
        });
    }
    let asks = {
        let act = act.clone();
        Callback::from(move |event: Event| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            if let Ok(pages) = input.value().parse() {
                act.emit(Action::Asks(pages));
            }
        })
    };
    let send = {
        let (act, live, sheet) = (act.clone(), props.live.clone(), props.sheet);
        let make = Callback::from(move |()| {
            let file = file_of(&live, sheet);
            save("trial-manuscript.brf", &file.to_text());
            act.emit(Action::Sent(file.pages().count()));
        });
        on_writing(&props.live, make).reform(|_: MouseEvent| ())
    };
    let still = trial.still_to_do(counted, made, print);
    let begun = !trial.begun.is_empty();
    let begin = act.reform(move |_: MouseEvent| Action::Begin(print));
    html! {
        <details class="more trial-manuscript">
            <summary>{ if begun { format!("Trial manuscript, from print to parcel ({})", written_of(counted.map(|it| it.0), made)) } else { "Trial manuscript, from print to parcel".to_owned() } }</summary>
            <p>{ "Lay the print on the holder under “The copy”, then work down this list. All of it is kept, even when you leave the page." }</p>
            <h2 class="step">{ "1. Print" }</h2>
            <label>{ "Braille pages that your course asks for (35: common practice, from memory)" }<br />
                <input type="number" min="1" max="1000" value={trial.asked.to_string()} onchange={asks} /></label>
            { for book.iter().enumerate().map(|(at, volume)| html! {
                <>
                    if book.len() > 1 { <p><b>{ format!("Volume {}", at + 1) }</b></p> }
                    <ul aria-label={format!("Parts of volume {}", at + 1)}>{ for volume.iter().map(|part| html! { <li>{ part.words() }</li> }) }</ul>
                </>
            }) }
            if begun {
                <p class="note">{ format!("Begun on {}.", trial.begun) }</p>
                if trial.print != print {
                    <div class="controls"><button type="button" onclick={begin}>{ "Go on with this print" }</button></div>
                }
            <h2 class="step">{ "2. Draft" }</h2>
            if trial.days.is_empty() { <p>{ "Nothing has been written yet." }</p> } else {
                <ul aria-label="Days and pages">{ for trial.by_day().iter().map(|(day, pages)| html! { <li>{ format!("{day}: {pages} more {}", if *pages == 1 { "page" } else { "pages" }) }</li> }) }</ul>
            }
            <h2 class="step">{ "3. Proofread" }</h2>
            <Rounds trial={(*trial).clone()} live={props.live.clone()} sheet={props.sheet} act={act.clone()} />
            <h2 class="step">{ "4. Check" }</h2>
            <p>{ match &trial.checked {
                None => "The whole volume has not been checked yet.".to_owned(),
                Some(checked) => format!("{}: {} to fix, {} for you to judge{}.", checked.day, checked.fix, checked.calls, if counted.is_some_and(|it| it.1 != checked.of) { "; changed since" } else { "" }),
            } }</p>
            <div class="controls"><button type="button" onclick={props.check.reform(|_: MouseEvent| ())}>{ "Check the whole volume" }</button></div>
            <p class="note">{ "Below the check stands the print copy of the title page, to print." }</p>
            <h2 class="step">{ "5. Parcel" }</h2>
            if still.is_empty() { <p>{ "Nothing stands in its way." }</p> } else {
                <ul aria-label="Still to do">{ for still.iter().map(|words| html! { <li>{ words }</li> }) }</ul>
            }
            <div class="controls"><button type="button" onclick={send}>{ "Save the hand-in file (.brf)" }</button></div>
            <ul aria-label="Sent">{ for trial.sent.iter().map(|sent| html! { <li>{ format!("{}: {}", sent.day, pages(sent.pages)) }</li> }) }</ul>
            <h2 class="step">{ "6. The grader’s answer" }</h2>
            { answer(&trial, &act) }
            } else {
                <div class="controls"><button type="button" onclick={begin}>{ "Begin a trial manuscript with this print" }</button></div>
            }
        </details>
    }
}

/// What came back, and the way to the slips that were marked.
fn answer(trial: &TrialManuscript, act: &Callback<Action>) -> Html {
    let says = |accepted: bool| act.reform(move |_: MouseEvent| Action::Answered(accepted));
    html! {
        <>
            <ul aria-label="Answers">{ for trial.answers.iter().map(|one| html! { <li>{ format!("{}: {}", one.day, if one.accepted { "accepted" } else { "to be done again" }) }</li> }) }</ul>
            <div class="controls">
                <button type="button" onclick={says(true)} disabled={trial.sent.is_empty()}>{ "It was accepted" }</button>
                <button type="button" onclick={says(false)} disabled={trial.sent.is_empty()}>{ "It is to be done again" }</button>
                <button type="button" class="quiet" onclick={act.reform(|_: MouseEvent| Action::Anew)} disabled={trial.answers.is_empty()}>{ "Begin another manuscript" }</button>
            </div>
            <p>{ "Enter what the grader marked under “My own slips”, one by one or as a list: the tour visits every such place, and Proofread plants it first." }</p>
        </>
    }
}

#[derive(Properties, PartialEq)]
struct RoundsProps {
    trial: TrialManuscript,
    live: Rc<Live>,
    sheet: Sheet,
    act: Callback<Action>,
}

/// The rounds of proofreading, and the one that is open.
#[component]
fn Rounds(props: &RoundsProps) -> Html {
    let RoundsProps { trial, live, sheet, act } = props;
    let sheet = *sheet;
    let note = use_held(String::new);
    let typed = {
        let note = note.clone();
        Callback::from(move |event: InputEvent| {
            note.set(event.target_unchecked_into::<web_sys::HtmlInputElement>().value());
        })
    };
    let begin = {
        let (act, of) = (act.clone(), live.clone());
        let begin = Callback::from(move |()| act.emit(Action::BeginRound(file_of(&of, sheet).to_text())));
        on_writing(live, begin).reform(|_: MouseEvent| ())
    };
    let end = {
        let (act, of, note) = (act.clone(), live.clone(), note.clone());
        let end = Callback::from(move |()| {
            act.emit(Action::EndRound(file_of(&of, sheet).to_text(), (*note).clone()));
            note.set(String::new());
        });
        on_writing(live, end).reform(|_: MouseEvent| ())
    };
    let leave = act.reform(|_: MouseEvent| Action::LeaveRound);
    let found = |changed: usize| match changed {
        0 => "nothing was changed".to_owned(),
        1 => "1 line was changed".to_owned(),
        many => format!("{many} lines were changed"),
    };
    html! {
        <>
            <ol aria-label="Rounds">{ for trial.rounds.iter().map(|round| html! {
                <li>{ format!("{}: {}", round.day, found(round.changed)) }{ if round.note.is_empty() { String::new() } else { format!(" · {}", round.note) } }</li>
            }) }</ol>
            if trial.open.is_some() {
                <p>{ "A round is open: read every line against the print, mend what you find, and end it here." }</p>
                <label>{ "What it found" }<br /><input type="text" value={(*note).clone()} oninput={typed} /></label>
                <div class="controls">
                    <button type="button" onclick={end}>{ "End this round" }</button>
                    <button type="button" class="quiet" onclick={leave}>{ "Give this round up" }</button>
                </div>
            } else {
                <div class="controls"><button type="button" onclick={begin}>{ format!("Begin round {}", trial.rounds.len() + 1) }</button></div>
            }
        </>
    }
}

//! Record, leaving no trace: everything of this page is taken out of the browser, after a question that offers the file first.

use yew::prelude::*;

use crate::page::browser::held::use_held;
use crate::page::browser::people::{self, take_away};
use crate::page::widgets::fields::use_focus;
use crate::page::widgets::take_home::TakeHome;

/// The section.
#[component]
pub fn NoTrace() -> Html {
    let (asked, everybody, at_it) = (use_held(|| false), use_held(|| false), use_held(|| false));
    let all = people::people();
    let several = all.several();
    let first = use_focus(u32::from(*asked));
    let ask = |on: bool| {
        let (asked, everybody) = (asked.clone(), everybody.clone());
        Callback::from(move |_: MouseEvent| {
            everybody.set(false);
            asked.set(on);
        })
    };
    let clear = {
        let (everybody, at_it) = (*everybody || !several, at_it.clone());
        Callback::from(move |_: MouseEvent| {
            at_it.set(true);
            take_away(&people::people(), everybody);
        })
    };
    let choose = |to: bool, label: String| {
        let everybody = everybody.clone();
        let checked = *everybody == to;
        let onchange = Callback::from(move |_: Event| everybody.set(to));
        html! { <label class="check"><input type="radio" name="whose" {checked} {onchange} />{ label }</label> }
    };
    let me = all.person_here().called();
    html! {
        <section class="no-trace" aria-label="Leave no trace">
            <h2>{ "Leave no trace" }</h2>
            <p>{ "For a computer that is not yours: this removes everything that the page has kept of your work in the browser, and the books that were kept because you opened them." }</p>
            <p class="note">{ "The page cannot clear what the browser itself remembers: its history, which holds the links of exercises and slips, and the files that you saved." }</p>
            if !*asked {
                <p class="controls"><button type="button" onclick={ask(true)}>{ "Leave no trace" }</button></p>
            } else {
                <div class="question" role="alertdialog" aria-label="Take everything away?">
                    <p>{ if several && !*everybody { format!("Everything that {me} has here is removed: record, drafts, texts, exercises, class sheet, settings and name. Only a file that you saved can bring it back.") }
                        else { "Everything is removed: record, drafts, texts, exercises, class sheet and settings. Only a file that you saved can bring it back.".to_owned() } }</p>
                    if several {
                        <fieldset>
                            <legend>{ "Whose" }</legend>
                            { choose(false, format!("Only what {me} has here")) }
                            { choose(true, format!("What all {} people have here", all.all.len())) }
                        </fieldset>
                        if *everybody { <p class="note">{ format!("The file holds only what {me} has. The others take theirs home under their own names.") }</p> }
                    }
                    <TakeHome label="Take everything home first" node={first} />
                    <div class="controls">
                        <button type="button" onclick={clear} disabled={*at_it}>{ "Remove it all" }</button>
                        <button type="button" class="quiet" onclick={ask(false)} disabled={*at_it}>{ "Not now" }</button>
                    </div>
                    <p role="status" aria-label="Taken away">{ if *at_it { "It is being removed; then the page starts afresh." } else { "" } }</p>
                </div>
            }
        </section>
    }
}

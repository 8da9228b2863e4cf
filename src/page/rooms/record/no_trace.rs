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
            <p>{ "On a computer that is not yours: everything that this page has kept in the browser is taken away, also the books that were kept because you opened them." }</p>
            <p class="note">{ "What the browser itself remembers is not the page’s to clear: its history, in which exercises and slips stand by their links, and files that you saved." }</p>
            if !*asked {
                <p class="controls"><button type="button" onclick={ask(true)}>{ "Leave no trace" }</button></p>
            } else {
                <div class="question" role="alertdialog" aria-label="Take everything away?">
                    <p>{ if several && !*everybody { format!("Everything that {me} has here is taken away: record, drafts, texts, exercises, class sheet, settings, the name. It cannot be brought back but from a file.") }
                        else { "Everything is taken away: record, drafts, texts, exercises, class sheet, settings. It cannot be brought back but from a file.".to_owned() } }</p>
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
                        <button type="button" onclick={clear} disabled={*at_it}>{ "Take it all away" }</button>
                        <button type="button" class="quiet" onclick={ask(false)} disabled={*at_it}>{ "Not now" }</button>
                    </div>
                    <p role="status" aria-label="Taken away">{ if *at_it { "It is being taken away; the page begins anew." } else { "" } }</p>
                </div>
            }
        </section>
    }
}

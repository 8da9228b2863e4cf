//! Record, the people who share this browser: who is at work, changing to another, a new name.

use gloo::events::EventListener;
use yew::prelude::*;

use crate::page::browser::held::use_held;
use crate::page::browser::people::{self, hand_to};
use crate::page::browser::store;
use crate::page::route::address;
use crate::page::states::people::People;
use crate::page::widgets::fields::text_of;

/// The address that leads here.
const HERE: &str = "#/record?people";
/// Why nobody takes over while something is not stored.
const NOT_STORED: &str =
    "Some of your work is not stored. Save it first, by the button at the top of this page, then change.";

/// Changes to whoever `who` makes of the people here.
fn change(
    said: &crate::page::browser::held::Held<String>,
    who: impl FnOnce(&mut People) -> Result<(), &'static str>,
) {
    if store::holds() {
        said.set(NOT_STORED.to_owned());
        return;
    }
    let mut all = people::people();
    let done = who(&mut all).and_then(|()| hand_to(&all, HERE).map_err(|why| why.words()));
    if let Err(why) = done {
        said.set(format!("Nothing was changed. {why}"));
    }
}

/// The section.
#[component]
pub fn PeopleView() -> Html {
    let all = people::people();
    let (new, name, said) = (use_held(String::new), use_held(String::new), use_held(String::new));
    let heading = use_node_ref();
    {
        // The link in the page's head leads here from any room, and from this one.
        let heading = heading.clone();
        use_effect_with((), move |()| {
            let go = move || {
                if address() == HERE
                    && let Some(heading) = heading.cast::<web_sys::HtmlElement>()
                {
                    heading.scroll_into_view();
                    let _ = heading.focus();
                }
            };
            go();
            let listener = EventListener::new(&gloo::utils::window(), "hashchange", move |_| go());
            move || drop(listener)
        });
    }
    let add = {
        let (new, said) = (new.clone(), said.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            change(&said, |all| {
                all.here = all.add(&new).map_err(|why| why.words())?;
                Ok(())
            });
        })
    };
    let call = {
        let (name, said) = (name.clone(), said.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            change(&said, |all| all.call(&name).map_err(|why| why.words()));
        })
    };
    let typed = |to: &crate::page::browser::held::Held<String>| {
        let to = to.clone();
        Callback::from(move |event: InputEvent| to.set(text_of(&event)))
    };
    let person = |one: &crate::page::states::people::Person| {
        let (number, said) = (one.number, said.clone());
        let onclick = Callback::from(move |_: MouseEvent| {
            change(&said, |all| {
                all.here = number;
                Ok(())
            });
        });
        html! {
            <li>
                if number == all.here { <strong aria-current="true">{ one.called() }</strong>{ ", at work now" } }
                else { <button type="button" {onclick}>{ format!("Change to {}", one.called()) }</button> }
            </li>
        }
    };
    html! {
        <section class="people" aria-label="People in this browser">
            <h2 ref={heading} tabindex="-1">{ "People in this browser" }</h2>
            if all.several() {
                <p>{ format!("You are {}. What the others have here is not shown to you, and what you do is kept apart from theirs.", all.person_here().called()) }</p>
                <ul>{ for all.all.iter().map(person) }</ul>
            } else {
                <p>{ "If several people use this browser, each can have a name here, with a record, drafts, texts and settings of their own. What is here now stays with the first person." }</p>
            }
            <p class="note">{ "A name is no lock: whoever uses this browser can change to any of them." }</p>
            <form class="controls" onsubmit={add}>
                <label>{ "A new person’s name " }<input type="text" value={(*new).clone()} oninput={typed(&new)} autocomplete="off" /></label>
                <button type="submit">{ "Add, and change to them" }</button>
            </form>
            if all.several() {
                <form class="controls" onsubmit={call}>
                    <label>{ "Another name for you " }<input type="text" value={(*name).clone()} oninput={typed(&name)} autocomplete="off" /></label>
                    <button type="submit">{ "Take this name" }</button>
                </form>
            }
            <p role="status" aria-label="People">{ (*said).clone() }</p>
        </section>
    }
}

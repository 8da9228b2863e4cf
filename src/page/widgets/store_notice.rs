//! What the learner is told of what this browser keeps: what is not stored, and what was set aside.

use gloo::events::EventListener;
use yew::prelude::*;

use crate::page::browser::held::use_held;
use crate::page::browser::saving::href;
use crate::page::browser::store;

fn state() -> (Option<store::StoreError>, bool, bool) {
    (store::lacks(), store::holds(), store::has_new_aside())
}

/// Nothing while all is well.
#[component]
pub fn StoreNotice() -> Html {
    let now = use_held(state);
    {
        let now = now.clone();
        use_effect_with((), move |()| {
            now.set(state());
            let listener =
                EventListener::new(&gloo::utils::window(), store::CHANGED, move |_| now.set(state()));
            move || drop(listener)
        });
    }
    let (lacks, holds, aside) = *now;
    // What is waiting is taken when it is asked for.
    let fill = Callback::from(|event: MouseEvent| {
        let link: web_sys::Element = event.target_unchecked_into();
        let _ = link.set_attribute("href", &href(&store::held_text()));
    });
    html! {
        <>
            if let Some(why) = lacks {
                <p class="alert" role="alert">{ why.words() }{ " " }<a href="#/record">{ "To the room Record" }</a>
                    if holds { { " " }<a class="button" href="#/record" download="cellwright-not-stored.txt" onclick={fill}>{ "Save what is not stored" }</a> }
                </p>
            }
            if aside {
                <p class="alert" role="alert">
                    { "Something stored here could not be read, or was changed in another tab. It was set aside as it stood. " }
                    { what_was_set_aside() }
                </p>
            }
        </>
    }
}

/// The way to what was set aside.
pub fn what_was_set_aside() -> Html {
    html! {
        <>
            <a class="button" href={href(&store::aside())} download="cellwright-set-aside.txt">{ "Save what was set aside" }</a>{ " " }
            <button type="button" class="quiet" onclick={|_: MouseEvent| store::forget_aside()}>{ "Take it away for good" }</button>
        </>
    }
}

//! The link to what is copied or was written freely, as an exercise.

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::Exercise;
use crate::page::browser::clipboard::copy_link;
use crate::page::browser::held::use_held;
use crate::page::browser::site::link_of;
use crate::page::learner::settings::use_settings;
use crate::page::surface::live::Live;
use crate::page::surface::written::Written;

/// What the link leads to.
#[derive(Properties, PartialEq)]
pub struct CopyLinkProps {
    /// Its title.
    pub title: AttrValue,
    /// The print to be copied; nothing where it is what was written freely.
    pub print: Option<String>,
    /// Contracted or not.
    pub contracted: bool,
    /// What is written.
    pub live: Rc<Live>,
}

/// The button, and what is said of the link.
#[component]
pub fn CopyLink(props: &CopyLinkProps) -> Html {
    let settings = use_settings();
    let said = use_held(String::new);
    let onclick = {
        let said = said.clone();
        let (title, print, contracted, live) =
            (props.title.to_string(), props.print.clone(), props.contracted, props.live.clone());
        Callback::from(move |_: MouseEvent| {
            let link = link_of(&Exercise {
                title: title.clone(),
                text: print.clone().unwrap_or_else(|| free_print(&live.now())),
                contracted,
                edition: settings.edition(),
                dot_numbers_only: settings.dot_numbers_only,
                hide_reading: settings.hide_reading,
                ..Exercise::default()
            });
            let said = said.clone();
            wasm_bindgen_futures::spawn_local(async move {
                said.set(match link {
                    Err(why) => why,
                    Ok(link) => copy_link(&link).await,
                });
            });
        })
    };
    html! {
        <>
            <button type="button" class="quiet" {onclick}>{ "Copy link" }</button>
            <span role="status" aria-label="Link" class="note">{ (*said).clone() }</span>
        </>
    }
}

/// What was written freely, in print.
fn free_print(written: &Written) -> String {
    let mut print = String::new();
    for (number, line) in written.lines().enumerate() {
        if number > 0 && !line.goes_on {
            print.push('\n');
        }
        print.push_str(&line.print);
    }
    print
}

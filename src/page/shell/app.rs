//! The frame of every room: the names of the rooms, the theme, the caution.

use gloo::events::EventListener;
use wasm_bindgen::JsCast;
use yew::prelude::*;

use crate::page::browser::halves;
use crate::page::browser::held::use_held;
use crate::page::browser::leaving::finish_typing;
use crate::page::browser::store;
use crate::page::learner::settings::{self, SettingsHandle, Theme};
use crate::page::route::{ROOMS, Route};
use crate::page::shell::first;
use crate::page::shell::table::Table;
use crate::page::widgets::later::Later;
use crate::page::widgets::store_notice::StoreNotice;

/// What the page is made of.
#[derive(Properties, PartialEq)]
pub struct AppProps {
    /// The rooms.
    pub table: Table,
}

/// The page.
#[component]
pub fn App(props: &AppProps) -> Html {
    let route = use_held(Route::now);
    let settings = SettingsHandle::new(use_state(|| {
        let settings = settings::load();
        // Before the first frame, which would be in other colours and drawn twice.
        wear(settings.theme);
        settings
    }));

    {
        let route = route.clone();
        use_effect_with((), move |()| {
            let window = gloo::utils::window();
            let listeners = [
                EventListener::new(&window, "hashchange", move |_| {
                    finish_typing();
                    route.set(Route::now());
                }),
                EventListener::new(&window, "pagehide", |_| finish_typing()),
                // A page that comes back as it was has heard of nobody meanwhile.
                EventListener::new(&window, "pageshow", |event| {
                    if store::is_of_another() || store::is_swept(event) {
                        begin_anew();
                    }
                }),
            ];
            move || drop(listeners)
        });
    }
    {
        let settings = settings.clone();
        use_effect_with((), move |()| {
            let listener = EventListener::new(&gloo::utils::window(), "storage", move |event| {
                if store::hear_of_people(event) {
                    begin_anew();
                }
                settings.hear(event);
            });
            move || drop(listener)
        });
    }
    use_effect_with(settings.theme, |theme| wear(*theme));
    {
        // A new room is announced by its title and begins at its top.
        let first_time = use_mut_ref(|| true);
        use_effect_with((*route).clone(), move |route| {
            gloo::utils::document().set_title(&route.title());
            let took_over = halves::TOOK_OVER.take();
            if !first_time.replace(false) || took_over {
                gloo::utils::window().scroll_to_with_x_and_y(0.0, 0.0);
                let main = gloo::utils::document().get_element_by_id("room");
                let main = if took_over { main.map(halves::focused_before) } else { main };
                // A field of the room that has taken the focus already keeps it.
                let active = gloo::utils::document().active_element();
                if let Some(main) = main.and_then(|main| main.dyn_into::<web_sys::HtmlElement>().ok())
                    && !active.is_some_and(|active| main.contains(Some(active.as_ref())))
                {
                    let _ = main.focus();
                    if !took_over {
                        // The focus alone would push the menu out of sight.
                        gloo::utils::window().scroll_to_with_x_and_y(0.0, 0.0);
                    }
                }
            }
        });
    }

    let room = match &*route {
        Route::Unknown => nowhere(),
        route => (props.table.room)(route),
    };

    html! {
        <ContextProvider<SettingsHandle> context={settings.clone()}>
            <a class="skip" href="#room" onclick={skip}>{ "Skip to the room" }</a>
            <header class="head">
                <a class="name" href="#/">{ "Cellwright" }</a>
                <nav aria-label="Rooms">
                    <ul>
                        { for ROOMS.iter().map(|(to, name, address)| html! {
                            <li><a href={*address} aria-current={(to == &*route).then_some("page")}>{ name }</a></li>
                        }) }
                    </ul>
                </nav>
                { person() }
                { theme_switch(&settings) }
            </header>
            <main id="room" tabindex="-1">
                <ContextProvider<Later> context={props.table.later}><StoreNotice />{ room }</ContextProvider<Later>>
            </main>
            <footer class="foot">
                if *route == Route::First {
                    <p>{ first::CAUTION }</p>
                } else {
                    <p>{ "A practice tool, no substitute for a certified transcriber or proofreader. " }<a href="#/">{ "The caution in full" }</a></p>
                }
                <p>{ "No account, no server: nothing you write leaves this computer. " }<a href="#/licences">{ "Licences" }</a></p>
                <p class="offline">{ "From now on this page opens here without a network too." }</p>
            </footer>
        </ContextProvider<SettingsHandle>>
    }
}

/// Loads the page anew, for another person or for nobody.
fn begin_anew() {
    finish_typing();
    let _ = gloo::utils::window().location().reload();
}

/// Whose page this is, where several people use this browser, and the way to change that.
fn person() -> Html {
    let Some(name) = store::person() else { return Html::default() };
    let name = if name.is_empty() { "first person".to_owned() } else { name };
    html! { <a class="person" href="#/record?people">{ "Person: " }{ name }</a> }
}

/// Puts the whole page into this theme.
fn wear(theme: Theme) {
    if let Some(html) = gloo::utils::document().document_element() {
        let _ = html.set_attribute("data-theme", theme.key());
    }
}

/// The skip link moves the focus without changing the address, which names the room.
fn skip(event: MouseEvent) {
    event.prevent_default();
    let main = gloo::utils::document().get_element_by_id("room");
    if let Some(main) = main.and_then(|main| main.dyn_into::<web_sys::HtmlElement>().ok()) {
        let _ = main.focus();
    }
}

fn theme_switch(settings: &SettingsHandle) -> Html {
    let onchange = {
        let settings = settings.clone();
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let chosen = select.value();
            if let Some((theme, _, _)) = Theme::ALL.iter().find(|(_, key, _)| *key == chosen) {
                settings.change(|settings| settings.theme = *theme);
            }
        })
    };
    html! {
        <label class="theme">
            <span>{ "Theme" }</span>
            <select {onchange}>
                { for Theme::ALL.iter().map(|(theme, key, name)| html! {
                    <option value={*key} selected={*theme == settings.theme}>{ name }</option>
                }) }
            </select>
        </label>
    }
}

fn nowhere() -> Html {
    html! {
        <>
            <h1>{ "There is no such room" }</h1>
            <p>{ "The address does not name a room of this page. Choose one above, or " }<a href="#/">{ "go to the first screen" }</a>{ "." }</p>
        </>
    }
}

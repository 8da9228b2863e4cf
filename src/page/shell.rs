//! The frame of every room: the names of the rooms, the theme, the caution.

use gloo::events::EventListener;
use wasm_bindgen::JsCast;
use yew::prelude::*;

use super::halves::{self, Elsewhere, WHOLE};
use super::held::use_held;
use super::route::{ROOMS, Route};
use super::settings::{self, SettingsHandle, Theme};
use super::{first, read, shared, write};
use super::{proofread, record, set_work, signs, slip, transcribe};

/// The whole page.
#[component]
pub fn App() -> Html {
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
            ];
            move || drop(listeners)
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
                }
            }
        });
    }

    let room = match &*route {
        Route::First => html! { <first::Room /> },
        Route::Read => html! { <read::Room /> },
        Route::Write => html! { <write::Room /> },
        Route::Transcribe if WHOLE => html! { <transcribe::Room /> },
        Route::Proofread if WHOLE => html! { <proofread::Room /> },
        Route::Signs if WHOLE => html! { <signs::Room /> },
        Route::Record if WHOLE => html! { <record::Room /> },
        Route::SetWork if WHOLE => html! { <set_work::Room /> },
        Route::Exercise(payload) if WHOLE => html! { <shared::Shared payload={payload.clone()} /> },
        Route::Slip(payload) if WHOLE => html! { <slip::Room payload={payload.clone()} /> },
        Route::Unknown => nowhere(),
        _ => html! { <Elsewhere /> },
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
                { theme_switch(&settings) }
            </header>
            <main id="room" tabindex="-1">{ room }</main>
            <footer class="foot">
                <p>
                    { "Cellwright is a practice tool. It is no substitute for a certified transcriber or proofreader. Braille that \
                       someone’s safety hangs on (medicine, signs, exits, lifts) is to be checked by a qualified person under the \
                       local code and the national braille authority’s rules. It trains reading by eye; it does not teach reading \
                       by touch." }
                </p>
                <p>{ "No account, no server: nothing you write leaves this computer." }</p>
                <p class="offline">{ "From now on this page opens here without a network too." }</p>
            </footer>
        </ContextProvider<SettingsHandle>>
    }
}

/// Puts the whole page into this theme.
fn wear(theme: Theme) {
    if let Some(html) = gloo::utils::document().document_element() {
        let _ = html.set_attribute("data-theme", theme.key());
    }
}

/// Many fields tell of what was typed into them when the focus leaves. A page that is closed, or a room left by the browser's
/// own ways, takes no focus away: so it is taken here, and nothing typed is lost.
/// What such a field tells is to be kept at once, not when the room is next drawn: it may never be.
fn finish_typing() {
    let active = gloo::utils::document().active_element();
    if let Some(field) = active.and_then(|active| active.dyn_into::<web_sys::HtmlElement>().ok())
        && matches!(field.tag_name().as_str(), "INPUT" | "TEXTAREA")
    {
        let _ = field.blur();
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

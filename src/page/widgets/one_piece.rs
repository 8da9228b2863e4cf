//! Work that is open in one tab at a time: what another tab opens goes on there, and both say so.

use gloo::events::EventListener;
use gloo::timers::callback::Timeout;
use web_sys::js_sys::Reflect;
use yew::prelude::*;

use crate::page::browser::held::use_held;
use crate::page::browser::leaving::finish_typing;
use crate::page::browser::piece::{self, Said};

/// Where the piece is.
#[derive(Clone, Copy, PartialEq)]
enum At {
    /// Another tab has it by name, and hands it over or is gone.
    Coming,
    /// Here.
    Here,
    /// Here, handed over by another tab.
    FromAnother,
    /// In another tab.
    Elsewhere,
    /// Nowhere: the page was left, and the browser may show it again as it was.
    Asleep,
}

/// What the piece is, and what works on it.
#[derive(Properties, PartialEq)]
pub struct OnePieceProps {
    /// Its name.
    pub piece: AttrValue,
    /// The title of its room.
    pub title: AttrValue,
    /// Its room, which begins with what is kept and keeps all when it goes.
    pub children: Html,
}

/// `<OnePiece piece=".." title="..">…</OnePiece>`.
#[component]
pub fn OnePiece(props: &OnePieceProps) -> Html {
    let take = |piece: &str| if piece::take(piece) { At::Coming } else { At::Here };
    let at = use_held(|| take(&props.piece));
    {
        let (at, piece) = (at.clone(), props.piece.clone());
        use_effect_with((), move |()| {
            let window = gloo::utils::window();
            let hear = {
                let (at, piece) = (at.clone(), piece.clone());
                move |event: &Event| match piece::said(event, &piece) {
                    Some(Said::Taken) => at.set(At::Elsewhere),
                    Some(Said::Given) => at.set(At::FromAnother),
                    None => {}
                }
            };
            let listeners = [
                EventListener::new(&window, "storage", hear),
                EventListener::new(&window, "pagehide", {
                    let (at, piece) = (at.clone(), piece.clone());
                    move |_| {
                        if !piece::lost(&piece) {
                            // The room goes, and would take along what is in a field.
                            finish_typing();
                            piece::leave(&piece);
                            at.set(At::Asleep);
                        }
                    }
                }),
                // A page that comes back as it was has heard nothing meanwhile: its room begins anew with what is kept.
                EventListener::new(&window, "pageshow", {
                    let (at, piece) = (at.clone(), piece.clone());
                    move |event| {
                        if Reflect::get(event, &"persisted".into()).is_ok_and(|kept| kept.is_truthy()) {
                            at.set(if piece::lost(&piece) { At::Elsewhere } else { take(&piece) });
                        }
                    }
                }),
            ];
            move || {
                drop(listeners);
                piece::leave(&piece);
            }
        });
    }
    {
        let (at, piece) = (at.clone(), props.piece.clone());
        use_effect_with(*at, move |now| {
            // The room is gone by now, and has kept everything.
            if *now == At::Elsewhere {
                piece::give(&piece);
            }
            let gone = (*now == At::Coming).then(|| Timeout::new(piece::PATIENCE, move || at.set(At::Here)));
            move || drop(gone)
        });
    }
    let take_over = {
        let (at, piece) = (at.clone(), props.piece.clone());
        Callback::from(move |_: MouseEvent| at.set(take(&piece)))
    };
    match *at {
        // A moment only.
        At::Coming | At::Asleep => html! {},
        At::Elsewhere => html! {
            <>
                <h1>{ &props.title }</h1>
                <p role="alert">{ "You opened this in another tab, and it goes on there, with everything you wrote here." }</p>
                <p><button type="button" class="main" onclick={take_over}>{ "Go on here" }</button></p>
            </>
        },
        here => html! {
            <>
                if here == At::FromAnother {
                    <p role="status" class="note">{ "This was open in another tab. It goes on here, with everything you wrote there." }</p>
                }
                { props.children.clone() }
            </>
        },
    }
}

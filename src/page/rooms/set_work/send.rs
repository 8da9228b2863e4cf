//! How set work leaves the teacher's page: its link, copied or shared, as a QR code where a camera can read it, or as a file.

use gloo::events::EventListener;
use yew::prelude::*;

use crate::exercise::envelope::LINK as LONGEST;
use crate::page::browser::clipboard::{copy_link, may_share, share};
use crate::page::browser::held::use_held;
use crate::page::browser::saving::save;
use crate::page::marked::hand_in::LINK;

/// What is sent.
#[derive(Properties, PartialEq)]
pub struct SendProps {
    /// The link.
    pub link: AttrValue,
    /// What it is called among others: "The exercise's link".
    pub label: AttrValue,
    /// What the field with the link is called.
    pub field: AttrValue,
    /// The name of its file.
    pub file: AttrValue,
    /// What else can be done with it.
    #[prop_or_default]
    pub children: Html,
}

/// A link on its way out: `<Send link=.. label=.. field=.. file=.. />`.
#[component]
pub fn Send(props: &SendProps) -> Html {
    let said = use_held(String::new);
    let link = &props.link;
    let fits = link.len() <= LONGEST;
    let send = |shared: bool| {
        let (said, link) = (said.clone(), link.clone());
        Callback::from(move |_: MouseEvent| {
            let (said, link) = (said.clone(), link.clone());
            wasm_bindgen_futures::spawn_local(async move {
                said.set(if shared { share(&link).await } else { copy_link(&link).await });
            });
        })
    };
    let to_file = {
        let (link, file) = (link.clone(), props.file.clone());
        Callback::from(move |_: MouseEvent| save(&file, &link))
    };
    html! {
        <section class="marked" aria-label={props.label.clone()}>
            <div class="link-out">
            <div>
            <h2>{ "Its link" }</h2>
            if fits {
                <p><input type="text" readonly=true value={link.clone()} aria-label={props.field.clone()} class="wide" /></p>
            } else {
                <p class="alert">{ format!("This is too long for a link ({} characters). Send it as a file: learners open it under “Open a link or an exercise file”.", link.len()) }</p>
            }
            if fits && link.len() > LINK {
                <p class="alert">{ format!("This link has {} characters; some programs cut links above {LINK}. Send the file instead.", link.len()) }</p>
            }
            <div class="controls">
                if fits { <button type="button" class="main" onclick={send(false)}>{ "Copy link" }</button> }
                if fits && may_share() { <button type="button" onclick={send(true)}>{ "Share link" }</button> }
                <button type="button" onclick={to_file}>{ "Save as a file" }</button>
                { props.children.clone() }
                <span role="status" aria-label="Copied" class="note">{ (*said).clone() }</span>
            </div>
            </div>
            if fits { <QrCode text={link.clone()} /> }
            </div>
        </section>
    }
}

#[derive(Properties, PartialEq)]
struct QrProps {
    text: AttrValue,
}

/// A module of a QR code is at least so wide, in CSS pixels, so that a camera tells one from the next (from memory).
const MODULE: i32 = 4;
/// The quiet zone on each side, in modules (ISO/IEC 18004).
const QUIET: i32 = 4;

/// How wide the page is, in CSS pixels.
fn width() -> i32 {
    let root = gloo::utils::document().document_element();
    root.map_or(0, |root| root.client_width())
}

/// A link as a QR code (ISO/IEC 18004), black on white in every theme, never with smaller modules than a camera reads.
#[component]
fn QrCode(props: &QrProps) -> Html {
    let window = use_held(width);
    {
        let window = window.clone();
        use_effect_with((), move |()| {
            let listener = EventListener::new(&gloo::utils::window(), "resize", move |_| window.set(width()));
            move || drop(listener)
        });
    }
    let code = use_memo(props.text.clone(), |text| {
        qrcodegen::QrCode::encode_text(text, qrcodegen::QrCodeEcc::Low).ok().map(|code| {
            let size = code.size();
            let mut path = String::new();
            for y in 0..size {
                for x in (0..size).filter(|x| code.get_module(*x, y)) {
                    path.push_str(&format!("M{x} {y}h1v1h-1z"));
                }
            }
            (size, path)
        })
    });
    // Beside the code stands what the page leaves free on both sides.
    const SIDES: i32 = 48;
    match &*code {
        None => {
            html! { <p class="note">{ "The link is too long for a QR code. Send the link or the file." }</p> }
        }
        Some((size, _)) if MODULE * (size + 2 * QUIET) + SIDES > *window => html! {
            <p class="note">{ format!("As a QR code this link needs a window {} pixels wide: in this one its squares would be too small for a camera. Send the link or the file.", MODULE * (size + 2 * QUIET) + SIDES) }</p>
        },
        Some((size, path)) => html! {
            <svg role="img" aria-label="The link as a QR code" viewBox={format!("-{QUIET} -{QUIET} {0} {0}", size + 2 * QUIET)}
                style={format!("width:{}px;flex:none;background:#fff", whole_modules(*size))} shape-rendering="crispEdges">
                <path d={path.clone()} fill="#000" />
            </svg>
        },
    }
}

/// The width of a code whose modules are whole pixels: at least [`MODULE`], and the code at least 280 wide.
fn whole_modules(size: i32) -> i32 {
    let across = size + 2 * QUIET;
    across * MODULE.max((280 + across - 1) / across)
}

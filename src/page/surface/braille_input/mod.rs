//! The writing surface: a text box named "Braille", written with six keys, and what it says under its own cells.
//!
//! The lines are drawn; over them lies a clear text box that holds the caret's line as plain text. So screen readers and
//! braille displays meet an ordinary text box, and braille keyboards and input methods have a place to type into.

use std::cell::RefCell;
use std::rc::Rc;

use gloo::timers::callback::Timeout;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;
use yew::prelude::*;
use yew::virtual_dom::VNode;

use crate::cell::Cell;
use crate::keys::{Hands, Hole, KeyMap, Stroke};
use crate::page::browser::halves::{self, AFTER_THE_FIRST_FRAME};
use crate::page::browser::quiet::Quiet;
use crate::page::browser::resized::Resized;
use crate::page::browser::speech;
use crate::page::learner::settings::{Settings, use_settings};
use crate::page::states::hand_over::Piece;
use crate::page::states::margin::MarginNote;
use crate::page::surface::drawn_lines::DrawnLines;
use crate::page::surface::text_box::{Did, Shown, TextBox};
use crate::page::surface::typing;
use crate::page::surface::written::{Given, Go, Written};
use crate::page::widgets::cells_line;
use crate::page::widgets::cells_line::LineMark;
use crate::page::widgets::later::{Later, use_later};
use crate::page::widgets::number_entry::{Entered, NumberEntryProps};
use crate::page::widgets::six_keys::{KeyTouch, Lights, SixKeys};
use crate::ueb::ReadOptions;
use crate::writing::Editor;
use aside::Aside;
use coming::Coming;
use drawing::ToCopy;
use input::Taken;
use keyboard::Keyboard;
use told::Told;

mod aside;
mod coming;
mod drawing;
mod input;
mod keyboard;
mod told;

/// The writing surface.
#[derive(Properties, PartialEq, Clone)]
pub struct BrailleInputProps {
    /// Its accessible name.
    #[prop_or(AttrValue::Static("Braille"))]
    pub label: AttrValue,
    /// What it begins with.
    #[prop_or_default]
    pub given: Given,
    /// Whether the reading stands under the cells.
    #[prop_or(true)]
    pub reads: bool,
    /// Contracted or not; by default as the learner has set it.
    #[prop_or_default]
    pub contracted: Option<bool>,
    /// Findings to mark.
    #[prop_or_default]
    pub marks: Rc<Vec<LineMark>>,
    /// What is noted beside the lines.
    #[prop_or_default]
    pub notes: Rc<Vec<MarginNote>>,
    /// Where the caret is to go.
    #[prop_or_default]
    pub go: Go,
    /// Print that stands right above the line being written.
    #[prop_or_default]
    pub copy: Option<Html>,
    /// Called for every cell written with keys, with the times of its keys.
    #[prop_or_default]
    pub on_stroke: Callback<Stroke>,
    /// Called after every change and every move of the caret.
    #[prop_or_default]
    pub on_change: Callback<Written>,
    /// Takes the focus when it appears.
    #[prop_or_default]
    pub autofocus: bool,
    /// A ground that differs: nothing may be written.
    #[prop_or_default]
    pub read_only: bool,
    /// Drawn as punched on a slate: from right to left, every cell mirrored (section 1.1.3).
    #[prop_or_default]
    pub slate: bool,
    /// Signs are written one at a time here, and not running text.
    #[prop_or_default]
    pub drill: bool,
    /// Distance between two dots in CSS pixels; by default as the learner has set it.
    #[prop_or_default]
    pub dot: Option<f64>,
    /// A sheet, which may begin with blank lines. Elsewhere a new line on the empty surface writes nothing.
    #[prop_or_default]
    pub sheet: bool,
    /// Gives the cells that are to be written, where that is known: a keyboard that swallows keys is noticed sooner.
    #[prop_or_default]
    pub meant: Option<Callback<(), Rc<[Cell]>>>,
    /// The ids of what stands before it and is to be written, told with its name.
    #[prop_or_default]
    pub asks: Option<AttrValue>,
    /// Called when what was set aside has taken the place of what took its own.
    #[prop_or_default]
    pub on_brought_back: Callback<()>,
}

/// The writing surface with its six keys: `<BrailleInput on_change={..} />`.
#[component]
pub fn BrailleInput(props: &BrailleInputProps) -> Html {
    let (mut settings, later) = ((*use_settings()).clone(), use_later());
    settings.dot = props.dot.unwrap_or(settings.dot);
    html! { <Surface {settings} props={props.clone()} {later} /> }
}

#[derive(Properties, PartialEq)]
struct SurfaceProps {
    settings: Settings,
    props: BrailleInputProps,
    later: Later,
}

/// Of [`Picture::beyond`]: the chunk before and the chunk after.
const ALL: u8 = 2;

enum Msg {
    /// The next part of a long text.
    More,
    Box(Did),
    Scroll,
    /// Its size is to be watched from now on.
    Watch,
    /// The lines have another size.
    Resized,
    /// The next lines beyond the view.
    Further,
    /// Nothing was written for a moment.
    Settled,
    Touch(KeyTouch),
    Entered(Entered),
    Keyboard(keyboard::Chosen),
    BringBack,
}

struct Surface {
    editor: Editor,
    /// What stood here before something else of the same work took its place.
    aside: Aside,
    /// What is told of what is written.
    told: Told,
    /// A long text that is still being taken in.
    coming: Option<Coming>,
    hands: Hands,
    /// What is seen of the keyboard.
    keyboard: Keyboard,
    surface: NodeRef,
    /// What stands in it.
    written: NodeRef,
    drawn: DrawnLines,
    /// Until what was written stands as text as well.
    unsettled: Quiet,
    /// What the text box holds.
    shown: Rc<Shown>,
    lights: Lights,
    lit: u8,
    /// The lines grow or shrink: told after they were laid out, so that no key waits for it.
    resized: Option<Resized>,
    /// Until its size is watched, when it began empty.
    later: Option<Timeout>,
    focused: bool,
    /// It was written on with the keys on the screen, which take no focus.
    touched: bool,
    /// The height of what stands in the surface, in pixels.
    height: i32,
    /// The first chunk in view and the last.
    seen: (usize, usize),
    /// After a leap the lines come chunk by chunk, each in a turn of its own: see [`Picture::beyond`].
    beyond: u8,
    further: Option<Timeout>,
    /// The caret moved: bring it into view.
    moved: bool,
    /// The learner has scrolled since.
    scrolled: bool,
    /// Where the surface was scrolled to for the caret.
    brought_to: std::cell::Cell<Option<i32>>,
    /// What was left out of the last paste.
    lost: usize,
    /// What is said of the cell that the caret moved to.
    said: String,
    /// The learner's keys.
    keys: Rc<KeyMap>,
    /// What is on its way to the clipboard when it is asked for.
    to_copy: Rc<RefCell<ToCopy>>,
    ways: Ways,
}

/// The ways back to the surface, made once: what is handed the same way again is not drawn again.
struct Ways {
    on_box: Callback<Did>,
    on_touch: Callback<KeyTouch>,
    on_entered: Callback<Entered>,
    on_scroll: Callback<Event>,
    copied: Callback<(), String>,
}

fn read_options(props: &SurfaceProps) -> ReadOptions {
    ReadOptions {
        contracted: props.props.contracted.unwrap_or(props.settings.contracted),
        edition: props.settings.edition(),
        ..ReadOptions::default()
    }
}

impl Component for Surface {
    type Message = Msg;
    type Properties = SurfaceProps;

    fn create(ctx: &Context<Self>) -> Self {
        let link = ctx.link();
        let to_copy = Rc::<RefCell<ToCopy>>::default();
        let ways = Ways {
            on_box: link.callback(Msg::Box),
            on_touch: link.callback(Msg::Touch),
            on_entered: link.callback(Msg::Entered),
            on_scroll: link.callback(|_| Msg::Scroll),
            copied: {
                let to_copy = to_copy.clone();
                Callback::from(move |()| to_copy.borrow().text())
            },
        };
        let mut surface = Surface {
            editor: Editor::new(&[], read_options(ctx.props())),
            aside: Aside::default(),
            told: Told::default(),
            coming: None,
            hands: Hands::default(),
            keyboard: Keyboard::begin(),
            surface: NodeRef::default(),
            written: NodeRef::default(),
            drawn: DrawnLines::default(),
            unsettled: Quiet::settled(link.callback(|()| Msg::Settled)),
            shown: Rc::default(),
            lights: Lights::default(),
            lit: 0,
            resized: None,
            later: None,
            focused: false,
            touched: false,
            height: 0,
            seen: (0, 0),
            beyond: ALL,
            further: None,
            moved: true,
            scrolled: false,
            brought_to: std::cell::Cell::default(),
            lost: 0,
            said: String::new(),
            keys: Rc::new(ctx.props().settings.key_map()),
            to_copy,
            ways,
        };
        surface.begin(ctx);
        // Before all of it stands on the page: so it is laid out but once.
        surface.draw_lines(ctx);
        surface
    }

    fn changed(&mut self, ctx: &Context<Self>, old: &SurfaceProps) -> bool {
        let (new, options) = (ctx.props(), read_options(ctx.props()));
        if (new.settings.swap, &new.settings.keys) != (old.settings.swap, &old.settings.keys) {
            self.keys = Rc::new(new.settings.key_map());
            self.keyboard.anew();
        }
        if new.props.meant != old.props.meant {
            self.keyboard.means_other();
        }
        if new.props.given != old.props.given {
            self.begin(ctx);
            self.moved = true;
            self.lost = 0;
        } else if options != read_options(old) {
            self.editor.read_as(options);
            self.tell(ctx);
        }
        if new.props.go != old.props.go {
            self.editor.go(new.props.go.place, false);
            self.moved = true;
            self.tell(ctx);
            if new.props.go.focus {
                self.take_focus();
            }
        }
        true
    }

    fn update(&mut self, ctx: &Context<Self>, msg: Msg) -> bool {
        if let Some(drawn_anew) = self.upkeep(ctx, &msg) {
            return drawn_anew;
        }
        // Nothing is written into a text that is not whole yet.
        if self.coming.is_some() && !matches!(msg, Msg::Scroll | Msg::Box(Did::Focus | Did::Blur)) {
            return false;
        }
        let before = self.frame();
        let settings = &ctx.props().settings;
        self.hands.set(settings.entry, settings.first_lift);
        let was = self.editor.caret();
        let offered = self.aside.is_offered().then(|| self.editor.chunks().to_vec());
        let lifted = matches!(msg, Msg::Box(Did::Up(_)) | Msg::Touch(KeyTouch::Up(..)));
        let taken = match self.take(ctx, msg) {
            Taken::Nothing => return false,
            Taken::Around => return true,
            taken => taken,
        };
        // Keys that are let go shine on for a moment: what was lit stands out, and the written cell is drawn sooner.
        if lifted {
            self.unsettled.again();
        } else {
            self.light();
        }
        if offered
            .is_some_and(|old| !old.iter().map(Rc::as_ptr).eq(self.editor.chunks().iter().map(Rc::as_ptr)))
        {
            self.aside.withdraw();
        }
        if let Taken::Text { moves } = taken {
            // In the same line nothing but its own growth, which is told, can take the caret out of view.
            let scrolled = std::mem::take(&mut self.scrolled);
            self.moved |= scrolled || was.line != self.editor.caret().line;
            self.said.clear();
            if moves && self.editor.caret() != was {
                self.said = typing::cell_at_caret(&self.editor, settings, ctx.props().props.reads);
                if settings.speech {
                    speech::say(&self.said);
                }
            }
            self.tell(ctx);
            self.draw(ctx);
            if !lifted {
                self.settle();
            }
            self.show_caret();
        }
        before != self.frame()
    }

    fn view(&self, ctx: &Context<Self>) -> Html {
        let SurfaceProps { settings, props, later } = ctx.props();
        let empty = self.is_empty();
        let Ways { on_box, on_touch, on_entered, on_scroll, copied } = &self.ways;
        html! {
            <div class={classes!("writing", self.focused.then_some("focused"))} style={format!("--dot:{}px", cells_line::decimal(settings.dot))}>
                <div ref={self.surface.clone()} class={classes!("surface", props.slate.then_some("slate"))}
                    style={self.surface_style()} aria-busy={self.coming.as_ref().map(|_| "true")} onscroll={on_scroll}>
                    <TextBox label={props.label.clone()} asks={props.asks.clone()} read_only={props.read_only} autofocus={props.autofocus}
                        typed={settings.braille_keyboard} keys={self.keys.clone()} shown={self.shown.clone()}
                        {copied} on_did={on_box} />
                    <div ref={self.written.clone()}>
                        { VNode::VRef(self.drawn.lines.clone().into()) }
                        if let Some(copy) = &props.copy { { create_portal(copy.clone(), self.drawn.copy.clone()) } }
                        if empty && !props.read_only {
                            <p class="hint" aria-hidden="true">{ typing::hint(&self.keys, settings.entry) }</p>
                        }
                    </div>
                </div>
                <p id="surface-help" class="sr">{ typing::help(&self.keys, settings.entry) }</p>
                <p class="sr" aria-live="polite">{ &self.said }</p>
                <p class="sr" aria-live="polite" ref={self.told.place.clone()}></p>
                { self.offer(ctx) }
                if self.lost > 0 {
                    <p class="alert" role="alert">
                        { format!("{} of what you pasted {} no braille and left out.", self.lost, if self.lost == 1 { "is" } else { "are" }) }
                    </p>
                }
                { self.keyboard_words(ctx) }
                if settings.number_entry && !props.read_only {
                    { later.show(Piece::NumberEntry, NumberEntryProps { on_entered: on_entered.clone() }) }
                }
                if settings.six_keys && !props.read_only {
                    <SixKeys lights={self.lights.clone()} entry={settings.entry} {on_touch} />
                }
            </div>
        }
    }

    fn rendered(&mut self, ctx: &Context<Self>, first: bool) {
        if first {
            if self.is_empty() {
                // It is as high as any surface is at least.
                let link = ctx.link().clone();
                self.later = Some(Timeout::new(AFTER_THE_FIRST_FRAME, move || link.send_message(Msg::Watch)));
            } else {
                self.watch(ctx);
            }
        }
        self.draw(ctx);
        self.settle();
        // The first time it is told of its size anyway, once it was laid out, and looks for the caret then.
        if !first {
            self.measure();
            self.show_caret();
        }
    }

    fn destroy(&mut self, ctx: &Context<Self>) {
        // A text still coming in has no history yet.
        if !ctx.props().props.drill && self.coming.is_none() {
            halves::leave_history(|| self.editor.history());
        }
    }
}

impl Surface {
    fn tell(&self, ctx: &Context<Self>) {
        if self.coming.is_some() {
            return;
        }
        ctx.props().props.on_change.emit(Written::of(ctx.props().props.given.version, &self.editor));
    }

    fn take_focus(&self) {
        let surface = self.surface.cast::<HtmlElement>();
        let text_box = surface.and_then(|surface| surface.query_selector(".text-box").ok().flatten());
        if let Some(text_box) = text_box.and_then(|element| element.dyn_into::<HtmlElement>().ok()) {
            let _ = text_box.focus();
        }
    }

    fn is_empty(&self) -> bool {
        self.editor.lines().len() == 1 && self.editor.lines()[0].cells.is_empty()
    }

    /// What stands around the lines and has to be drawn again when it changes.
    fn frame(&self) -> (bool, String, usize, Option<Hole>, [bool; 3]) {
        let flags = [self.coming.is_some(), self.focused, self.aside.is_offered()];
        (self.is_empty(), self.said.clone(), self.lost, self.keyboard.hole, flags)
    }
}

//! The real browser: its driver, fresh sessions, and what tests do in one.

use std::process::Stdio;
use std::sync::Arc;
use std::time::{Duration, Instant};

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use cellwright::cell::Cell;
use fantoccini::actions::{InputSource, KeyAction, KeyActions};
use fantoccini::elements::Element;
use fantoccini::wd::WebDriverCompatibleCommand;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use tempfile::TempDir;
use tokio::process::{Child, Command};

use crate::site;

/// Why a test failed.
#[derive(Debug)]
pub struct Failed(pub String);

/// What a test gives.
pub type Outcome<T = ()> = Result<T, Failed>;

impl<E: std::error::Error> From<E> for Failed {
    fn from(error: E) -> Self {
        Failed(error.to_string())
    }
}

/// Fails with these words unless `holds`.
pub fn ensure(holds: bool, words: impl FnOnce() -> String) -> Outcome {
    if holds { Ok(()) } else { Err(Failed(words())) }
}

/// Keys by their characters in the WebDriver standard.
const CONTROL: char = '\u{e009}';
const SHIFT: char = '\u{e008}';
/// Moves the focus on.
pub const TAB: char = '\u{e004}';
/// Presses a button, ends a line.
pub const ENTER: char = '\u{e007}';
/// Erases.
pub const BACKSPACE: char = '\u{e003}';
/// With Control: behind the last cell.
pub const END: char = '\u{e010}';

/// Cells of braille ASCII.
pub fn cells(ascii: &str) -> Vec<Cell> {
    cellwright::cell::from_ascii(ascii).expect("braille ASCII")
}

/// How long a test waits for what should come.
const PATIENCE: Duration = Duration::from_secs(25);

/// Which browser.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Browser {
    /// Chromium, driven by chromedriver.
    Chromium,
    /// Firefox, driven by geckodriver.
    Firefox,
}

/// The browser's driver; it ends with this value.
pub struct Driver {
    address: String,
    browser: Browser,
    child: Arc<Child>,
}

impl Driver {
    /// Starts the driver on a free port.
    pub async fn start(browser: Browser) -> Outcome<Driver> {
        let port = std::net::TcpListener::bind("127.0.0.1:0")?.local_addr()?.port();
        let program = match browser {
            Browser::Chromium => "chromedriver".to_owned(),
            Browser::Firefox => std::env::var("GECKODRIVER").unwrap_or_else(|_| "geckodriver".to_owned()),
        };
        let mut command = Command::new(&program);
        command.arg(format!("--port={port}"));
        if browser == Browser::Firefox {
            // The other way to speak to Firefox has a port of its own, which two drivers must not share.
            command.arg("--websocket-port=0");
        }
        let child = command
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .kill_on_drop(true)
            .spawn()
            .map_err(|error| Failed(format!("{program} could not be started: {error}")))?;
        let begun = Instant::now();
        while tokio::net::TcpStream::connect(("127.0.0.1", port)).await.is_err() {
            ensure(begun.elapsed() < PATIENCE, || format!("{program} does not answer"))?;
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
        Ok(Driver { address: format!("http://127.0.0.1:{port}"), browser, child: Arc::new(child) })
    }

    /// A fresh browser with a fresh profile. `site` is the address of the page.
    pub async fn session(&self, site: &str) -> Outcome<Session> {
        match self.browser {
            Browser::Chromium => connect(self, site, true).await,
            // geckodriver has one session at a time: each session has a driver of its own.
            Browser::Firefox => connect(&Driver::start(self.browser).await?, site, true).await,
        }
    }
}

/// A fresh browser with a fresh profile; without `keeps`, sites may store nothing in it.
async fn connect(driver: &Driver, site: &str, keeps: bool) -> Outcome<Session> {
    let profile = TempDir::new()?;
    let capabilities = match driver.browser {
        Browser::Chromium => {
            let mut prefs = json!({});
            if !keeps {
                // 2 is "block" in Chromium's content settings.
                prefs["profile.default_content_setting_values.cookies"] = json!(2);
            }
            json!({
                "goog:loggingPrefs": {"browser": "ALL"},
                "goog:chromeOptions": {"prefs": prefs, "args": [
                    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
                    "--disable-background-networking", "--disable-component-update", "--disable-sync",
                    "--disable-dev-shm-usage", "--window-size=1280,900",
                    format!("--user-data-dir={}", profile.path().display()),
                ]},
            })
        }
        // geckodriver makes a fresh profile for every session by itself.
        Browser::Firefox => json!({"moz:firefoxOptions": {
            "args": ["-headless", "--width=1280", "--height=900"],
            "prefs": {"dom.storage.enabled": keeps},
        }}),
    };
    let mut capabilities = capabilities;
    capabilities["timeouts"] = json!({"script": 60_000});
    let Value::Object(capabilities) = capabilities else { unreachable!("an object was written above") };
    let client =
        ClientBuilder::new(HttpConnector::new()).capabilities(capabilities).connect(&driver.address).await?;
    let kept =
        Driver { address: driver.address.clone(), browser: driver.browser, child: driver.child.clone() };
    Ok(Session { client, site: site.to_owned(), browser: driver.browser, driver: kept, profile })
}

/// One browser with one page.
pub struct Session {
    /// The driver's client, for what the helpers here do not offer.
    pub client: Client,
    /// The address of the page; a test may set another.
    pub site: String,
    /// Which browser this is.
    pub browser: Browser,
    driver: Driver,
    profile: TempDir,
}

/// A command by its path below the session.
#[derive(Debug)]
struct Ask {
    path: String,
    body: Option<String>,
}

impl WebDriverCompatibleCommand for Ask {
    fn endpoint(&self, base: &url::Url, session: Option<&str>) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/{}", session.unwrap_or_default(), self.path))
    }

    fn method_and_body(&self, _: &url::Url) -> (http::Method, Option<String>) {
        let method = if self.body.is_some() { http::Method::POST } else { http::Method::GET };
        (method, self.body.clone())
    }
}

impl Session {
    /// Keeps the session's driver alive beyond the session, so that its browser can be closed.
    pub fn driver_held(&self) -> Arc<Child> {
        self.driver.child.clone()
    }

    /// This browser closed, and one in its place in which sites may store nothing.
    pub async fn that_keeps_nothing(self) -> Outcome<Session> {
        self.client.close().await?;
        connect(&self.driver, &self.site, false).await
    }

    /// Chooses a theme by its key.
    pub async fn switch_theme(&self, key: &str) -> Outcome {
        let choose = format!(
            "const list = document.querySelector('.theme select'); list.value = {key:?};
             list.dispatchEvent(new Event('change', {{bubbles: true}}))"
        );
        self.script(&choose).await.map(drop)
    }

    /// Loads the page anew at an address below it, `#/write` for example, and waits until its room stands.
    pub async fn open(&self, address: &str) -> Outcome {
        self.client.goto("about:blank").await?;
        if self.browser == Browser::Firefox {
            // The empty page stands in a process of its own, to which what was stored comes a moment later.
            tokio::time::sleep(Duration::from_millis(1200)).await;
        }
        self.client.goto(&format!("{}{address}", self.site)).await?;
        self.until("the room's heading", "return document.querySelectorAll('main h1').length === 1").await
    }

    /// Runs a script in the page (the body of an async function) and gives its value.
    pub async fn script(&self, script: &str) -> Outcome<Value> {
        let script = format!("return (async () => {{ {script} }})()");
        Ok(self.client.execute(&script, Vec::new()).await?)
    }

    /// Waits until a script gives true.
    pub async fn until(&self, what: &str, script: &str) -> Outcome {
        let begun = Instant::now();
        while self.script(script).await? != Value::Bool(true) {
            ensure(begun.elapsed() < PATIENCE, || format!("waited in vain for {what}"))?;
            tokio::time::sleep(Duration::from_millis(30)).await;
        }
        Ok(())
    }

    /// The shown element of this role and accessible name, both as the browser computes them; waits for it.
    pub async fn find(&self, role: &str, name: &str) -> Outcome<Found<'_>> {
        let element = self.look_for(role, name).await?;
        Ok(Found { session: self, role: role.to_owned(), name: name.to_owned(), element })
    }

    async fn look_for(&self, role: &str, name: &str) -> Outcome<Element> {
        let begun = Instant::now();
        loop {
            let mut seen = Vec::new();
            for element in self.client.find_all(Locator::Css(candidates(role))).await? {
                // An element that is drawn anew while it is looked at is looked for again.
                let Ok(label) = self.ask(format!("element/{}/computedlabel", &*element.element_id())).await
                else {
                    continue;
                };
                // A blank between a label's words and its field is part of the name or not by where the line breaks; it
                // is no part of what is heard.
                let label = label.as_str().unwrap_or_default().trim().to_owned();
                if label == name {
                    let role_of = format!("element/{}/computedrole", &*element.element_id());
                    let Ok(found) = self.ask(role_of).await else { continue };
                    if found.as_str() == Some(role) {
                        return Ok(element);
                    }
                }
                seen.push(label);
            }
            ensure(begun.elapsed() < PATIENCE, || format!("no {role} named \"{name}\"; there are {seen:?}"))?;
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    }

    /// The text of the element of this role and name, as it is in the page (spaces kept).
    pub async fn text_of(&self, role: &str, name: &str) -> Outcome<String> {
        Ok(self.find(role, name).await?.prop("textContent").await?.unwrap_or_default())
    }

    /// Waits until that text is as expected.
    pub async fn expect(&self, role: &str, name: &str, text: &str) -> Outcome {
        let begun = Instant::now();
        loop {
            let is = self.text_of(role, name).await?;
            if is == text {
                return Ok(());
            }
            ensure(begun.elapsed() < PATIENCE, || format!("{role} \"{name}\" says {is:?} and not {text:?}"))?;
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    }

    /// Switches a checkbox on or off.
    pub async fn switch(&self, name: &str, on: bool) -> Outcome {
        let element = self.find("checkbox", name).await?;
        if element.is_selected().await? != on {
            element.click().await?;
        }
        let element = self.find("checkbox", name).await?;
        ensure(element.is_selected().await? == on, || format!("the checkbox \"{name}\" does not switch"))
    }

    /// Writes cells into the writing surface with real keys: all keys of a chord down, then all up.
    pub async fn write(&self, cells: &[Cell]) -> Outcome {
        self.find("textbox", "Braille").await?.click().await?;
        self.type_cells(cells).await
    }

    /// Writes cells with real keys to what has the focus, as fast as the driver can.
    pub async fn type_cells(&self, cells: &[Cell]) -> Outcome {
        self.chords(cells, Duration::ZERO, Duration::ZERO).await
    }

    /// Writes cells with real keys: each chord is held for so long, and so long is waited before the next.
    pub async fn chords(&self, cells: &[Cell], held: Duration, between: Duration) -> Outcome {
        if cells.is_empty() {
            return Ok(());
        }
        let pause = |keys: KeyActions, duration: Duration| {
            if duration.is_zero() { keys } else { keys.then(KeyAction::Pause { duration }) }
        };
        let mut keys = KeyActions::new("hands".to_owned());
        for cell in cells {
            let chord: Vec<char> = if cell.is_blank() {
                vec![' ']
            } else {
                // The positions of common practice: F D S and J K L.
                cell.dots().map(|dot| ['f', 'd', 's', 'j', 'k', 'l'][usize::from(dot) - 1]).collect()
            };
            for &value in &chord {
                keys = keys.then(KeyAction::Down { value });
            }
            keys = pause(keys, held);
            for &value in &chord {
                keys = keys.then(KeyAction::Up { value });
            }
            keys = pause(keys, between);
        }
        Ok(self.client.perform_actions(keys).await?)
    }

    /// Presses these keys one after the other, each together with Control.
    pub async fn with_control(&self, keys: &str) -> Outcome {
        for value in keys.chars() {
            let keys = KeyActions::new("hands".to_owned())
                .then(KeyAction::Down { value: CONTROL })
                .then(KeyAction::Down { value })
                .then(KeyAction::Up { value })
                .then(KeyAction::Up { value: CONTROL });
            self.client.perform_actions(keys).await?;
        }
        Ok(())
    }

    /// Pastes a text where the focus is, as the browser would.
    pub async fn paste(&self, text: &str) -> Outcome {
        // Firefox leaves out the data of an event made by a script: they are put on it afterwards.
        let script = format!(
            "const data = new DataTransfer();
            data.setData('text/plain', {});
            const paste = new ClipboardEvent('paste', {{bubbles: true, cancelable: true}});
            Object.defineProperty(paste, 'clipboardData', {{value: data}});
            document.activeElement.dispatchEvent(paste)",
            json!(text)
        );
        self.script(&script).await.map(drop)
    }

    /// Opens everything that unfolds in the room, also what comes with the whole page.
    pub async fn unfold(&self) -> Outcome {
        let open = "for (const one of document.querySelectorAll('main details')) one.open = true";
        self.script(open).await?;
        let here = "return !!document.querySelector('main h1') && !document.querySelector('main details[data-later]')";
        self.until("the whole page", here).await?;
        self.script(open).await.map(drop)
    }

    /// Opens a text in the room Read by its cover: one of the course, of the shelf or of the learner's own.
    pub async fn open_text(&self, title: &str) -> Outcome {
        let choose = format!(
            "const line = [...document.querySelectorAll('main summary')].find((one) => one.textContent.startsWith('The shelf of books'));
            if (!line) return false;
            if (!line.parentElement.open) {{ line.click(); return false; }}
            const cover = [...document.querySelectorAll('.cover')].find((one) => one.querySelector('.cover-title').textContent === {title:?});
            cover?.click();
            return !!cover"
        );
        self.until("its cover", &choose).await?;
        self.until(
            "the text",
            &format!("return document.querySelector('.reading-room h2')?.textContent === {title:?}"),
        )
        .await
    }

    /// Presses and lifts one key; special keys by their character in the WebDriver standard (Tab is U+E004).
    pub async fn press(&self, value: char) -> Outcome {
        let keys = KeyActions::new("hands".to_owned());
        Ok(self
            .client
            .perform_actions(keys.then(KeyAction::Down { value }).then(KeyAction::Up { value }))
            .await?)
    }

    /// Presses a key with Shift held.
    pub async fn with_shift(&self, value: char) -> Outcome {
        let keys = KeyActions::new("hands".to_owned())
            .then(KeyAction::Down { value: SHIFT })
            .then(KeyAction::Down { value })
            .then(KeyAction::Up { value })
            .then(KeyAction::Up { value: SHIFT });
        Ok(self.client.perform_actions(keys).await?)
    }

    /// Presses Tab with Shift held: back to what had the focus before.
    pub async fn back_tab(&self) -> Outcome {
        let keys = KeyActions::new("hands".to_owned())
            .then(KeyAction::Down { value: SHIFT })
            .then(KeyAction::Down { value: TAB })
            .then(KeyAction::Up { value: TAB })
            .then(KeyAction::Up { value: SHIFT });
        Ok(self.client.perform_actions(keys).await?)
    }

    /// What the browser's console holds at the level of an error since it was last asked. Firefox's driver does not
    /// tell; there the list is empty, and Chromium's run is the one that checks.
    pub async fn console_errors(&self) -> Outcome<Vec<String>> {
        if self.browser == Browser::Firefox {
            return Ok(Vec::new());
        }
        let body = Some(json!({"type": "browser"}).to_string());
        let log = self.client.issue_cmd(Ask { path: "se/log".to_owned(), body }).await?;
        let entries = log.as_array().cloned().unwrap_or_default();
        Ok(entries
            .iter()
            .filter(|entry| entry["level"] == "SEVERE")
            .map(|entry| entry["message"].to_string())
            .collect())
    }

    /// Clicks on something after scrolling it into the middle, as a person does where something is pinned to an edge.
    pub async fn click_in_the_middle(&self, role: &str, name: &str) -> Outcome {
        let element = self.find(role, name).await?;
        let to_middle = "arguments[0].scrollIntoView({block: 'center'})";
        self.client.execute(to_middle, vec![element.for_script()?]).await?;
        element.click().await
    }

    /// Gives the page a screen of this width; 0 is the window's own.
    pub async fn screen(&self, width: u32) -> Outcome {
        if width == 0 {
            self.devtools("Emulation.clearDeviceMetricsOverride", json!({})).await?;
            self.devtools("Emulation.setScrollbarsHidden", json!({"hidden": false})).await?;
            tokio::time::sleep(Duration::from_millis(80)).await;
            return Ok(());
        }
        let metrics = json!({"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 500});
        self.devtools("Emulation.setDeviceMetricsOverride", metrics).await?;
        // A scroll bar would take its width away.
        self.devtools("Emulation.setScrollbarsHidden", json!({"hidden": true})).await?;
        tokio::time::sleep(Duration::from_millis(80)).await;
        Ok(())
    }

    /// Puts a picture of the whole page at this width into `target/screens/`.
    pub async fn picture(&self, name: &str, width: u32) -> Outcome {
        if self.browser == Browser::Firefox {
            // Pictures are looked at as Chromium draws them.
            return Ok(());
        }
        // Headless windows do not go below 500 pixels; the emulated screen does.
        self.screen(width).await?;
        let folder = site::project().join("target/screens");
        std::fs::create_dir_all(&folder)?;
        let whole = json!({"captureBeyondViewport": true, "format": "png"});
        let picture = self.devtools("Page.captureScreenshot", whole).await?;
        let picture = STANDARD
            .decode(picture["data"].as_str().unwrap_or_default())
            .map_err(|error| Failed(error.to_string()))?;
        std::fs::write(folder.join(format!("{name}-{width}.png")), picture)?;
        Ok(())
    }

    /// The address of Chromium's own protocol, which it writes into its profile.
    pub fn debugger(&self) -> Outcome<String> {
        let told = std::fs::read_to_string(self.profile.path().join("DevToolsActivePort"))?;
        let mut lines = told.lines();
        let (port, path) = (lines.next().unwrap_or_default(), lines.next().unwrap_or_default());
        Ok(format!("ws://127.0.0.1:{port}{path}"))
    }

    /// A command of the browser's own protocol.
    pub async fn devtools(&self, command: &str, parameters: Value) -> Outcome<Value> {
        let body = Some(json!({"cmd": command, "params": parameters}).to_string());
        Ok(self.client.issue_cmd(Ask { path: "goog/cdp/execute".to_owned(), body }).await?)
    }

    async fn ask(&self, path: String) -> Outcome<Value> {
        Ok(self.client.issue_cmd(Ask { path, body: None }).await?)
    }
}

/// An element that was found by its role and name. Where the page has drawn it anew since, it is looked for again before
/// anything is done to it, as a person would: the other half of the page may take over at any moment.
pub struct Found<'a> {
    session: &'a Session,
    role: String,
    name: String,
    element: Element,
}

macro_rules! on_the_element {
    ($($(#[$about:meta])* $does:ident($($with:ident: &str)?) -> $gives:ty;)*) => {
        impl Found<'_> {
            $($(#[$about])*
            pub async fn $does(&self $(, $with: &str)?) -> Outcome<$gives> {
                match self.element.$does($($with)?).await {
                    Err(error) if error.is_stale_element_reference() => {
                        let again = self.session.look_for(&self.role, &self.name).await?;
                        Ok(again.$does($($with)?).await?)
                    }
                    done => Ok(done?),
                }
            })*
        }
    };
}

on_the_element! {
    /// Clicks in its middle.
    click() -> ();
    /// Empties a field.
    clear() -> ();
    /// Types into it.
    send_keys(keys: &str) -> ();
    /// A property of it, as the page's scripts see it.
    prop(name: &str) -> Option<String>;
    /// An attribute of it.
    attr(name: &str) -> Option<String>;
    /// Whether a checkbox is on.
    is_selected() -> bool;
    /// Chooses in a list by what it says.
    select_by_label(label: &str) -> ();
    /// Chooses in a list by its value.
    select_by_value(value: &str) -> ();
}

impl Found<'_> {
    /// The element for a script's arguments.
    pub fn for_script(&self) -> Outcome<Value> {
        Ok(serde_json::to_value(&self.element)?)
    }
}

/// Where elements of a role are looked for; the browser's own computed role decides.
fn candidates(role: &str) -> &'static str {
    match role {
        "button" => "button, [role=button]",
        "combobox" => "select, [role=combobox]",
        "checkbox" => "input[type=checkbox], [role=checkbox]",
        "link" => "a[href]",
        "navigation" => "nav, [role=navigation]",
        "status" => "output, [role=status]",
        "group" => "[role=group]",
        "alert" => "[role=alert]",
        "textbox" => "input, textarea, [role=textbox]",
        "heading" => "h1, h2, h3",
        _ => "*",
    }
}

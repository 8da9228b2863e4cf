//! `cellwright bundle --out FILE`: the whole page as one HTML file that runs from a disk, without a server or network.
//!
//! The style, the script and the data files stand in it as text and the wasm as base64; its Content-Security-Policy
//! names the one script and the one style by their hashes and lets nothing be fetched at all.

use std::path::{Path, PathBuf};

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;

use super::{Failure, page_build, save, site, stream};

/// Runs the command.
pub fn run(mut args: lexopt::Parser) -> Result<(), Failure> {
    use lexopt::prelude::*;
    let (mut out, mut address) = (None, String::new());
    while let Some(arg) = args.next()? {
        match arg {
            Long("out") => out = Some(PathBuf::from(args.value()?)),
            Long("site") => address = args.value()?.string()?,
            _ => return Err(arg.unexpected().into()),
        }
    }
    let out = out.ok_or_else(|| Failure::Usage("bundle needs --out and the file to write".into()))?;
    let whole =
        |rest: &str| !rest.is_empty() && !rest.contains(|c: char| c.is_whitespace() || c.is_control());
    let named = ["https://", "http://"].iter().find_map(|head| address.strip_prefix(head));
    if !(address.is_empty() || named.is_some_and(whole)) {
        return Err(Failure::Usage(format!("'{address}' is no site's address: https://…")));
    }
    page_build::build(page_build::Quality::Published)?;
    let page = bundle(page_build::home(), &address)?;
    save::file(&out, page.as_bytes())?;
    let name = stream::plain(&out.display().to_string());
    stream::print(&format!("{name}: {} KB, one file\n", page.len().div_ceil(1024)))
}

/// The site in `root` as one page whose links lead to `address` ("": not yet set).
fn bundle(root: &Path, address: &str) -> Result<String, Failure> {
    let files = site::files(root)?;
    let text = |path: &str| -> Result<String, Failure> {
        let content = files.get(path).ok_or_else(|| Failure::Outside(format!("{path} is missing")))?;
        String::from_utf8(content.clone()).map_err(|_| Failure::Outside(format!("{path} is not UTF-8")))
    };
    let wasm = files
        .get("www/pkg/whole_bg.wasm")
        .ok_or_else(|| Failure::Outside("www/pkg/whole_bg.wasm is missing".into()))?;

    let style = format!("\n{}", text("www/style.css")?);
    let script = script(&text("www/pkg/whole.js")?, &text("www/start.js")?)?;
    for (what, text) in [("the style", &style), ("the script", &script)] {
        let lower = text.to_lowercase();
        if lower.contains("</style") || lower.contains("</script") || lower.contains("<!--") {
            return Err(Failure::Outside(format!("{what} can't stand in a page: it holds a tag's end")));
        }
    }
    let mut data = String::new();
    for path in files.keys() {
        let Some(name) = path.strip_prefix("www/data/") else { continue };
        // As a JSON string, in which `<` is written so that nothing in the data can end the element.
        let json = serde_json::to_string(&text(path)?).unwrap_or_default().replace('<', "\\u003c");
        data.push_str(&format!("<script type=\"application/json\" id=\"data-{name}\">{json}</script>\n"));
    }
    let icon = format!("data:image/svg+xml;base64,{}", STANDARD.encode(text("www/icon.svg")?));

    let mut page = text("index.html")?;
    let policy = format!(
        "default-src 'none'; script-src '{}' 'wasm-unsafe-eval'; style-src '{}'; style-src-attr 'unsafe-inline'; \
         img-src data: blob:; base-uri 'none'; form-action 'none'",
        site::integrity(script.as_bytes()),
        site::integrity(style.as_bytes()),
    );
    // What asks for files again has none to ask for.
    let again = format!("<script>{}</script>\n", between(&page, "<script>", "</script>\n")?);
    let policy_was = between(&page, "http-equiv=\"Content-Security-Policy\" content=\"", "\">")?;
    let site = address.replace('&', "&amp;").replace('"', "&quot;").replace('<', "&lt;");
    for (from, to) in [
        (policy_was.as_str(), policy.as_str()),
        (again.as_str(), ""),
        (
            "<meta name=\"referrer\"",
            &format!("<meta name=\"cellwright-site\" content=\"{site}\">\n<meta name=\"referrer\""),
        ),
        ("href=\"www/icon.svg\"", &format!("href=\"{icon}\"")),
        ("<link rel=\"stylesheet\" href=\"www/style.css\">", &format!("<style>{style}</style>")),
        ("<link rel=\"modulepreload\" href=\"www/pkg/cellwright.js\">\n", ""),
        ("<script type=\"module\" async src=\"www/start.js\"></script>\n", ""),
        (
            "</body>",
            &format!(
                "{data}<script type=\"application/wasm;base64\" id=\"wasm\">{}</script>\n<script \
                 type=\"module\">{script}</script>\n</body>",
                STANDARD.encode(wasm)
            ),
        ),
    ] {
        page = once(&page, from, to, "index.html")?;
    }
    if let Some(left) = page.find("\"www/") {
        let rest: String = page[left..].chars().take(40).collect();
        return Err(Failure::Outside(format!("index.html still points outside: {rest}")));
    }
    Ok(page)
}

/// The glue of wasm-bindgen and the start in one module: the start's way of loading is changed for one that takes
/// the wasm out of the page.
fn script(glue: &str, start: &str) -> Result<String, Failure> {
    if glue.lines().any(|line| line.starts_with("import ")) {
        return Err(Failure::Outside("www/pkg/whole.js loads other files: it can't stand alone".into()));
    }
    let load = between(start, "// begin load\n", "// end load\n")?;
    let own = "async function load() {\n  const text = atob(byId(\"wasm\").textContent);\n  \
               await __wbg_init({ module_or_path: Uint8Array.from(text, (c) => c.charCodeAt(0)) });\n  begin();\n}\n";
    if !(glue.contains("__wbg_init as default") && glue.contains("export function begin(")) {
        return Err(Failure::Outside(
            "www/pkg/whole.js has no __wbg_init or begin: wasm-bindgen has changed".into(),
        ));
    }
    Ok(format!("\n{glue}\n{}", once(start, &load, own, "www/start.js")?))
}

fn between(text: &str, from: &str, to: &str) -> Result<String, Failure> {
    text.split_once(from)
        .and_then(|(_, rest)| rest.split_once(to))
        .map(|(inside, _)| inside.to_owned())
        .ok_or_else(|| Failure::Outside(format!("'{}' is not where it was", from.trim())))
}

fn once(text: &str, from: &str, to: &str, name: &str) -> Result<String, Failure> {
    match text.matches(from).count() {
        1 => Ok(text.replacen(from, to, 1)),
        n => Err(Failure::Outside(format!("{name}: '{}' stands there {n} times", from.trim()))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_start_is_changed_or_refused() {
        let glue = "export function begin(left, bring) {}\nexport { initSync, __wbg_init as default };\n";
        let start = "a\n// begin load\nawait import(\"./pkg\");\n// end load\nb\n";
        let script_text = script(glue, start).unwrap();
        assert!(script_text.contains("atob") && !script_text.contains("import("), "{script_text}");
        assert!(script("import { a } from './snippets/a.js';\n", start).is_err());
        assert!(script(glue, "a\n").is_err());
    }
}

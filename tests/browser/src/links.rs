//! Links of exercises: the page stands at a sub-path of an origin of its own, in a profile that has never seen it.

use cellwright::exercise::{Exercise, envelope, in_link};

use crate::browser::{Failed, Outcome, Session, ensure};

fn exercise() -> Exercise {
    Exercise {
        title: "Notice 2".into(),
        text: "The 10:30 ferry leaves from Hallam Quay.".into(),
        dot_numbers_only: true,
        ..Exercise::default()
    }
}

pub async fn an_exercise_opens_at_a_sub_path(session: Session) -> Outcome {
    let set = exercise();
    let payload = set.to_payload()?;
    session.open(&format!("#/x/{payload}")).await?;
    session.find("heading", "Notice 2").await?;
    session
        .until(
            "the print to copy",
            &format!("return document.querySelector('main').textContent.includes({:?})", set.text),
        )
        .await?;
    let numbers = session.find("checkbox", "Dot numbers only").await?;
    ensure(numbers.is_selected().await?, || "the teacher's dot numbers only is not on".to_owned())?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

pub async fn fifty_damaged_links_each_say_so(session: Session) -> Outcome {
    let good = exercise().to_payload()?;
    let mut damaged: Vec<String> = Vec::new();
    damaged.extend((1..=15).map(|n| good[..n * (good.len() - 1) / 15].to_owned()));
    damaged.extend((0..20).map(|n| {
        let at = n * (good.len() - 1) / 19;
        let other = if good.as_bytes()[at] == b'Q' { "R" } else { "Q" };
        format!("{}{other}{}", &good[..at], &good[at + 1..])
    }));
    damaged.extend((1..=5).map(|n| format!("2-{}", "A".repeat(envelope::PAYLOAD + n))));
    damaged.extend(
        ["0", "1", "3", "9", "10", "99", "999999", "x", "02", "2.0"].map(|v| good.replacen('2', v, 1)),
    );
    ensure(damaged.len() == 50, || format!("there are {}", damaged.len()))?;
    // A place that keeps nothing of its own.
    session.open("#/nowhere").await?;
    session.script("localStorage.setItem('kept', 'as it was')").await?;
    let stored = "return JSON.stringify(Object.entries(localStorage).sort())";
    let before = session.script(stored).await?;
    for (number, payload) in damaged.iter().enumerate() {
        session.open(&format!("#/x/{payload}")).await?;
        let said = "const said = document.querySelector('main [role=alert]');
            return said ? said.textContent : ''";
        let words = session.script(said).await?;
        let words = words.as_str().unwrap_or_default();
        ensure(words.starts_with("This link") && words.ends_with('.'), || {
            format!("link {} ({}…) is answered by {words:?}", number + 1, &payload[..payload.len().min(40)])
        })?;
        let errors = session.console_errors().await?;
        ensure(errors.is_empty(), || format!("link {}: the console holds {errors:?}", number + 1))?;
    }
    let after = session.script(stored).await?;
    ensure(before == after, || format!("stored before: {before}, after: {after}"))?;
    // The page works as ever.
    session.find("link", "Write").await?.click().await?;
    session.find("textbox", "Braille").await.map(drop)
}

/// What a camera reads in the picture of the code, by a general-purpose decoder.
async fn scanned(session: &Session) -> Outcome<String> {
    // Whole in view: what is out of it would be cut off.
    session
        .script("document.querySelector('svg[aria-label=\"The link as a QR code\"]').scrollIntoView({block: 'center'})")
        .await?;
    let code = session
        .client
        .find(fantoccini::Locator::Css("svg[aria-label='The link as a QR code']"))
        .await?
        .screenshot()
        .await?;
    let mut reader = png::Decoder::new(std::io::Cursor::new(code)).read_info()?;
    let mut pixels = vec![0; reader.output_buffer_size().unwrap_or_default()];
    let frame = reader.next_frame(&mut pixels)?;
    let (width, height) = (frame.width as usize, frame.height as usize);
    let row = frame.line_size;
    let step = frame.color_type.samples();
    let mut image =
        rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| pixels[y * row + x * step]);
    let found = image.detect_grids();
    ensure(found.len() == 1, || format!("{} codes are seen in {width} by {height} pixels", found.len()))?;
    Ok(found[0].decode()?.1)
}

/// The code of a link says the link, letter for letter, whatever the theme and however long it is.
pub async fn a_code_is_read_as_its_link(session: Session) -> Outcome {
    session.open("#/set").await?;
    session.find("textbox", "Title").await?.send_keys("Notice 2 – é").await?;
    let sentence = "The 10:30 ferry leaves from Hallam Quay; Kittiwake follows at noon, or not at all. ";
    for (theme, text) in [
        ("light", sentence.to_owned()),
        ("dark", sentence.chars().cycle().skip(7).step_by(11).take(500).collect()),
        ("contrast", sentence.chars().cycle().skip(3).step_by(29).take(900).collect()),
    ] {
        session.switch_theme(theme).await?;
        let field = session.find("textbox", "Text, one item a line").await?;
        field.clear().await?;
        field.send_keys(&text).await?;
        let link = session.find("textbox", "Link").await?.prop("value").await?.unwrap_or_default();
        let read = scanned(&session).await?;
        ensure(read == link, || format!("{theme}: the code says {read:?}, the link is {link:?}"))?;
        let (_, payload) = in_link(&read).ok_or_else(|| Failed(format!("no link: {read}")))?;
        let set = Exercise::from_payload(payload)?;
        ensure(set.text.trim() == text.trim(), || format!("{theme}: the exercise says {:?}", set.text))?;
    }
    Ok(())
}

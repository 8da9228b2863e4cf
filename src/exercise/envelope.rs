//! What a link's payload looks like: the version in decimal, a hyphen, then base64url (RFC 4648 section 5, unpadded) of
//! a check sum (CRC-32 over kind, length and body; four bytes), the length of the body (two bytes), and the body: JSON,
//! compressed (RFC 1951). Numbers have their low byte first.
//!
//! Payloads come from anywhere. Nothing is decoded that is longer than a link of ours can be, the check sum is looked
//! at before anything is unpacked, and unpacking stops at [`UNPACKED`] bytes.

use std::fmt;

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use crc::{CRC_32_ISO_HDLC, Crc, NoTable};
use serde::Serialize;
use serde::de::DeserializeOwned;

/// The version that is written.
pub const VERSION: u32 = 1;
/// The longest payload, in characters.
pub const PAYLOAD: usize = 32_000;
/// The most bytes a body may unpack to.
pub const UNPACKED: usize = 256 * 1024;

const HEAD: usize = 6;

/// What a link carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// An exercise, `#/x/`.
    Exercise,
    /// A result slip, `#/r/`.
    Slip,
}

impl Kind {
    /// The beginning of the fragment.
    pub const fn address(self) -> &'static str {
        match self {
            Kind::Exercise => "#/x/",
            Kind::Slip => "#/r/",
        }
    }

    const fn mark(self) -> u8 {
        match self {
            Kind::Exercise => b'x',
            Kind::Slip => b'r',
        }
    }

    const fn other(self) -> Kind {
        match self {
            Kind::Exercise => Kind::Slip,
            Kind::Slip => Kind::Exercise,
        }
    }
}

/// Why a link could not be opened or made; shown as it is, it says what to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkError {
    /// Its end is missing.
    Cut,
    /// Characters in it were changed.
    Damaged,
    /// It is longer, or unpacks to more, than any link of this page.
    TooLong,
    /// It was made by a later version of this page.
    Newer(u32),
    /// It is whole, and of the other kind.
    Other(Kind),
    /// What is to be put into a link is too long for one.
    TooMuch,
}

impl fmt::Display for LinkError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            LinkError::Cut => {
                "This link is cut short: its end is missing. Copy the whole link and open it again, or ask for it to be sent again."
            }
            LinkError::Damaged => {
                "This link is damaged: some of its characters were changed on the way. Ask for it to be sent again."
            }
            LinkError::TooLong => {
                "This link is longer than any link this page makes, so it was not opened. Ask for it to be sent again."
            }
            LinkError::Newer(_) => {
                "This link was made by a newer version of this page. Reload the page to get that version, then open the link again; if that does not help, ask for it to be sent again."
            }
            LinkError::Other(Kind::Slip) => {
                "This link holds a result slip and not an exercise. Open it with #/r/ in place of #/x/, or ask for the exercise’s link."
            }
            LinkError::Other(Kind::Exercise) => {
                "This link holds an exercise and not a result slip. Open it with #/x/ in place of #/r/, or ask for the slip’s link."
            }
            LinkError::TooMuch => "This is too long for a link. Shorten the text, or make two exercises of it.",
        })
    }
}

impl std::error::Error for LinkError {}

/// The payload that carries these contents.
///
/// # Errors
/// [`LinkError::TooMuch`] when they do not fit.
pub fn seal(kind: Kind, contents: &impl Serialize) -> Result<String, LinkError> {
    let json = serde_json::to_vec(contents).map_err(|_| LinkError::TooMuch)?;
    if json.len() > UNPACKED {
        return Err(LinkError::TooMuch);
    }
    let body = miniz_oxide::deflate::compress_to_vec(&json, 9);
    let length = u16::try_from(body.len()).map_err(|_| LinkError::TooMuch)?;
    let mut bytes = Vec::with_capacity(HEAD + body.len());
    bytes.extend(check_sum(kind, length, &body).to_le_bytes());
    bytes.extend(length.to_le_bytes());
    bytes.extend(body);
    let payload = format!("{VERSION}-{}", URL_SAFE_NO_PAD.encode(bytes));
    if payload.len() > PAYLOAD { Err(LinkError::TooMuch) } else { Ok(payload) }
}

/// The contents of a payload; spaces and line ends around it are no part of it.
///
/// # Errors
/// [`LinkError::TooLong`], [`LinkError::Newer`], [`LinkError::Cut`], [`LinkError::Other`], else
/// [`LinkError::Damaged`].
pub fn open<T: DeserializeOwned>(kind: Kind, payload: &str) -> Result<T, LinkError> {
    let payload = payload.trim();
    if payload.len() > PAYLOAD {
        return Err(LinkError::TooLong);
    }
    if payload.is_empty() {
        return Err(LinkError::Cut);
    }
    let Some((version, packed)) = payload.split_once('-') else {
        let plain = payload.chars().all(|c| c.is_ascii_digit());
        return Err(if plain { LinkError::Cut } else { LinkError::Damaged });
    };
    match version_of(version) {
        Some(VERSION) => {}
        Some(newer) if newer > VERSION => return Err(LinkError::Newer(newer)),
        _ => return Err(LinkError::Damaged),
    }
    // A rest of one character, or bits left over in the last one, are what a cut leaves behind as well.
    let whole = URL_SAFE_NO_PAD.decode(packed);
    let bytes = match whole {
        Ok(bytes) if bytes.len() < HEAD => return Err(LinkError::Cut),
        Ok(bytes) => bytes,
        Err(base64::DecodeError::InvalidLength(_) | base64::DecodeError::InvalidLastSymbol(..)) => {
            return Err(LinkError::Cut);
        }
        Err(_) => return Err(LinkError::Damaged),
    };
    let sum = u32::from_le_bytes([bytes[0], bytes[1], bytes[2], bytes[3]]);
    let length = u16::from_le_bytes([bytes[4], bytes[5]]);
    let body = &bytes[HEAD..];
    if body.len() < usize::from(length) {
        return Err(LinkError::Cut);
    }
    if body.len() > usize::from(length) {
        return Err(LinkError::Damaged);
    }
    if sum != check_sum(kind, length, body) {
        let other = sum == check_sum(kind.other(), length, body);
        return Err(if other { LinkError::Other(kind.other()) } else { LinkError::Damaged });
    }
    let json =
        miniz_oxide::inflate::decompress_to_vec_with_limit(body, UNPACKED).map_err(|error| {
            match error.status {
                miniz_oxide::inflate::TINFLStatus::HasMoreOutput => LinkError::TooLong,
                _ => LinkError::Damaged,
            }
        })?;
    serde_json::from_slice(&json).map_err(|_| LinkError::Damaged)
}

/// A version is a number from 1 without leading zeros.
fn version_of(text: &str) -> Option<u32> {
    let plain = text.len() <= 6 && !text.starts_with('0') && text.chars().all(|c| c.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}

fn check_sum(kind: Kind, length: u16, body: &[u8]) -> u32 {
    // Without a table: a link is short, and the page is to stay small.
    let crc = Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC);
    let mut digest = crc.digest();
    digest.update(&[kind.mark()]);
    digest.update(&length.to_le_bytes());
    digest.update(body);
    digest.finalize()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use serde_json::Value;

    /// A payload with a good check sum around any body.
    fn around(body: &[u8]) -> String {
        let length = body.len() as u16;
        let mut bytes = check_sum(Kind::Exercise, length, body).to_le_bytes().to_vec();
        bytes.extend(length.to_le_bytes());
        bytes.extend(body);
        format!("1-{}", URL_SAFE_NO_PAD.encode(bytes))
    }

    #[test]
    fn a_small_link_that_unpacks_to_much_is_stopped() {
        let bomb = miniz_oxide::deflate::compress_to_vec(&vec![b' '; 16 * 1024 * 1024], 9);
        let payload = around(&bomb);
        assert!(payload.len() < PAYLOAD, "{}", payload.len());
        assert_eq!(open::<Value>(Kind::Exercise, &payload), Err(LinkError::TooLong));
    }

    #[test]
    fn each_failure_has_its_name() {
        let good = seal(Kind::Exercise, &"Hallam Quay").unwrap();
        let open = |payload: &str| super::open::<Value>(Kind::Exercise, payload);
        assert!(open(&good).is_ok());
        assert_eq!(open(""), Err(LinkError::Cut));
        assert_eq!(open("1"), Err(LinkError::Cut));
        assert_eq!(open(&good[..good.len() / 2]), Err(LinkError::Cut));
        assert_eq!(open(&good.replacen("1-", "2-", 1)), Err(LinkError::Newer(2)));
        assert_eq!(open(&good.replacen("1-", "01-", 1)), Err(LinkError::Damaged));
        assert_eq!(open(&"A".repeat(PAYLOAD + 1)), Err(LinkError::TooLong));
        assert_eq!(open("no link at all"), Err(LinkError::Damaged));
        assert_eq!(super::open::<Value>(Kind::Slip, &good), Err(LinkError::Other(Kind::Exercise)));
        assert_eq!(open(&around(b"not compressed")), Err(LinkError::Damaged));
    }

    /// Source of the value: the catalogue of parametrised CRC algorithms, check value of CRC-32/ISO-HDLC over
    /// "123456789" (from memory).
    #[test]
    fn the_check_sum_is_the_common_one() {
        assert_eq!(Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC).checksum(b"123456789"), 0xCBF4_3926);
    }

    proptest! {
        #[test]
        fn any_text_is_answered(payload in "\\PC{0,200}") {
            let _ = open::<Value>(Kind::Exercise, &payload);
        }

        #[test]
        fn any_body_is_answered(body in prop::collection::vec(any::<u8>(), 0..400)) {
            let _ = open::<super::super::Exercise>(Kind::Exercise, &around(&body));
        }
    }
}

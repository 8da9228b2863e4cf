//! Values in the browser's own JSON, for what the half of the page that loads first keeps: code that is made anew for each
//! type weighs several times as much.

use wasm_bindgen::JsValue;
use web_sys::js_sys::{Array, Object, Reflect};

/// What can be kept by [`crate::page::browser::store::load`] and [`crate::page::browser::store::save`].
pub trait Stored: Sized {
    /// The value, if it has the form of one.
    fn take(value: &JsValue) -> Option<Self>;
    /// Its form in JSON.
    fn give(&self) -> JsValue;
}

impl Stored for bool {
    fn take(value: &JsValue) -> Option<Self> {
        value.as_bool()
    }
    fn give(&self) -> JsValue {
        (*self).into()
    }
}

impl Stored for u32 {
    fn take(value: &JsValue) -> Option<Self> {
        let number = value.as_f64()?;
        Some(number as u32).filter(|whole| f64::from(*whole) == number)
    }
    fn give(&self) -> JsValue {
        (*self).into()
    }
}

/// Places and counts, all far below the end of 32 bits.
impl Stored for usize {
    fn take(value: &JsValue) -> Option<Self> {
        u32::take(value).and_then(|number| usize::try_from(number).ok())
    }
    fn give(&self) -> JsValue {
        u32::try_from(*self).unwrap_or(u32::MAX).into()
    }
}

impl Stored for String {
    fn take(value: &JsValue) -> Option<Self> {
        value.as_string()
    }
    fn give(&self) -> JsValue {
        self.as_str().into()
    }
}

impl<T: Stored> Stored for Vec<T> {
    fn take(value: &JsValue) -> Option<Self> {
        items(value)?.iter().map(T::take).collect()
    }
    fn give(&self) -> JsValue {
        list(self.iter().map(T::give))
    }
}

impl<A: Stored, B: Stored> Stored for (A, B) {
    fn take(value: &JsValue) -> Option<Self> {
        match items(value)?.as_slice() {
            [one, two] => Some((A::take(one)?, B::take(two)?)),
            _ => None,
        }
    }
    fn give(&self) -> JsValue {
        list([self.0.give(), self.1.give()].into_iter())
    }
}

fn items(value: &JsValue) -> Option<Vec<JsValue>> {
    Array::is_array(value).then(|| Array::from(value).to_vec())
}

fn list(items: impl Iterator<Item = JsValue>) -> JsValue {
    let list = Array::new();
    for item in items {
        list.push(&item);
    }
    list.into()
}

/// The part of this name, if it is there and has the form of one.
pub fn part<T: Stored>(value: &JsValue, name: &str) -> Option<T> {
    T::take(&Reflect::get(value, &name.into()).ok()?)
}

/// Puts the part of this name into its place; what is missing stays as it was.
///
/// `None` when it has another form.
pub fn fill<T: Stored>(value: &JsValue, name: &str, place: &mut T) -> Option<()> {
    let part = Reflect::get(value, &name.into()).ok()?;
    if !part.is_undefined() {
        *place = T::take(&part)?;
    }
    Some(())
}

/// A value made of named parts.
pub fn object(parts: &[(&str, JsValue)]) -> JsValue {
    let object = Object::new();
    for (name, part) in parts {
        let _ = Reflect::set(&object, &(*name).into(), part);
    }
    object.into()
}

/// The one of some choices that is kept under this name.
pub fn named<T: Copy>(value: &JsValue, names: &[(&str, T)]) -> Option<T> {
    let name = value.as_string()?;
    names.iter().find(|(known, _)| *known == name).map(|(_, choice)| *choice)
}

/// The name under which a choice is kept.
pub fn name_of<T: PartialEq>(choice: &T, names: &[(&'static str, T)]) -> JsValue {
    names.iter().find(|(_, known)| known == choice).map_or(JsValue::NULL, |(name, _)| (*name).into())
}

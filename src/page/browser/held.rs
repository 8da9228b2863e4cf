//! State of a component, as [`yew::use_state_eq`] has it, in one piece of code for every type: the library's is made anew
//! for each, and there are many.

use std::any::Any;
use std::ops::Deref;
use std::rc::Rc;

use yew::prelude::*;

/// A value whose type only its [`Held`] knows.
#[derive(Clone)]
struct Kept {
    value: Rc<dyn Any>,
    same: fn(&dyn Any, &dyn Any) -> bool,
}

impl PartialEq for Kept {
    fn eq(&self, other: &Kept) -> bool {
        (self.same)(&*self.value, &*other.value)
    }
}

impl Kept {
    fn of<T: PartialEq + 'static>(value: T) -> Kept {
        let same = |one: &dyn Any, two: &dyn Any| one.downcast_ref::<T>() == two.downcast_ref::<T>();
        Kept { value: Rc::new(value), same }
    }
}

/// The value now, and the way to another: a change draws the component again.
pub struct Held<T> {
    state: UseStateHandle<Kept>,
    value: Rc<T>,
}

impl<T> Clone for Held<T> {
    fn clone(&self) -> Self {
        Held { state: self.state.clone(), value: self.value.clone() }
    }
}

impl<T> Deref for Held<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.value
    }
}

impl<T: PartialEq> PartialEq for Held<T> {
    fn eq(&self, other: &Held<T>) -> bool {
        self.value == other.value
    }
}

impl<T: PartialEq + 'static> Held<T> {
    /// Puts another value in its place; an equal one changes nothing.
    pub fn set(&self, value: T) {
        self.state.set(Kept::of(value));
    }
}

/// A value that the component holds; `first` makes it when the component is drawn for the first time.
#[hook]
pub fn use_held<T: PartialEq + 'static>(first: impl FnOnce() -> T) -> Held<T> {
    let state = use_kept(Box::new(move || Kept::of(first())));
    let value = state.value.clone().downcast::<T>().expect("a hook keeps its type");
    Held { state, value }
}

#[hook]
fn use_kept<'a>(first: Box<dyn FnOnce() -> Kept + 'a>) -> UseStateHandle<Kept> {
    use_state_eq(first)
}

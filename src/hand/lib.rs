//! The engine inside a page, as WebAssembly: text in, text out.
//!
//! The page asks for room, writes its request there and lets it be answered; answers are read where
//! they lie. So no pointer is followed here, and the only thing unsafe is that a function has a
//! name outside.

use relatch::Offline;
use std::cell::RefCell;

#[derive(Default)]
struct Hand {
    page: Offline,
    /// The request, and then the answer.
    text: Vec<u8>,
}

thread_local! {
    static HAND: RefCell<Hand> = RefCell::default();
}

/// Where a request of so many bytes of UTF-8 is to be written.
#[allow(unsafe_code)]
#[unsafe(no_mangle)]
pub extern "C" fn room(bytes: usize) -> *mut u8 {
    HAND.with_borrow_mut(|hand| {
        hand.text.clear();
        hand.text.resize(bytes, 0);
        hand.text.as_mut_ptr()
    })
}

/// Answers what was written: how many bytes the answer has.
#[allow(unsafe_code)]
#[unsafe(no_mangle)]
pub extern "C" fn ask() -> usize {
    HAND.with_borrow_mut(|hand| {
        let request = String::from_utf8_lossy(&hand.text).into_owned();
        hand.text = hand.page.answer(&request).into_bytes();
        hand.text.len()
    })
}

/// Where the answer lies.
#[allow(unsafe_code)]
#[unsafe(no_mangle)]
pub extern "C" fn answer() -> *const u8 {
    HAND.with_borrow(|hand| hand.text.as_ptr())
}

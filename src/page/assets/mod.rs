//! The page itself: one document, its style and its script, which is one for the browser.

pub const HTML: &str = include_str!("page.html");
pub const CSS: &str = include_str!("page.css");
pub const SCRIPT: &str = concat!(
    include_str!("carry.js"),
    include_str!("sliders.js"),
    include_str!("wait.js"),
    include_str!("diagnosis.js"),
    include_str!("mechanism.js"),
    include_str!("lesson.js"),
    include_str!("views.js"),
);
pub const ICON: &str = include_str!("icon.svg");
/// What carries requests to the engine where there is no server.
pub const ENGINE_SCRIPT: &str = include_str!("engine.js");

//! What stands below a figure.

/// Where a figure is from: the end of its caption.
pub(crate) fn computed_from(scenario: &str) -> String {
    let version = env!("CARGO_PKG_VERSION");
    say!("Computed with relatch {version} from \"{scenario}\"."; version, scenario)
}

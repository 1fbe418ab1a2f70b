//! Layered strips.

use relatch::internals::physics::layered_section::Section;

/// Strain e0 of the outer face of the first-listed layer, without force.
pub fn strain_at_first_face(section: &Section) -> f64 {
    section.free_axial_strain() - section.neutral_axis_m() * section.thermal_curvature_per_m()
}

//! stub
pub struct SnapBlade<'a> {
    pub span_m: f64,
    pub stiffness_ei_n_m2: f64,
    pub axial_stiffness_n_per_m: f64,
    pub rise_m: f64,
    pub thrust_n: f64,
    pub curvature_modes_per_m: &'a [f64],
}
impl SnapBlade<'_> {
    pub fn trip_margin_m(&self) -> f64 {
        0.0
    }
    pub fn reset_margin_m(&self) -> f64 {
        0.0
    }
    pub fn closed_rise_m(&self) -> Option<f64> {
        None
    }
    pub fn snapped_rise_m(&self) -> Option<f64> {
        None
    }
    pub fn creeps(&self) -> bool {
        false
    }
}
pub mod one_term {
    use super::SnapBlade;
    pub fn trip_margin_m(b: &SnapBlade) -> f64 {
        b.trip_margin_m()
    }
    pub fn reset_margin_m(b: &SnapBlade) -> f64 {
        b.reset_margin_m()
    }
}

//! stub
pub struct AcrossLayer {
    pub thickness_m: f64,
    pub conductivity_w_per_m_k: f64,
    pub capacity_j_per_m3_k: f64,
    pub generation_w_per_m3: f64,
    pub modulus_pa: f64,
    pub expansion_per_k: f64,
}
pub struct Across;
pub struct Mode {
    pub rate_per_s: f64,
    pub curvature_share: f64,
}
impl Across {
    pub fn of(_: &[AcrossLayer]) -> Across {
        Across
    }
    pub fn modes(&self) -> Vec<Mode> {
        vec![]
    }
    pub fn curvature_per_m(&self) -> f64 {
        0.0
    }
    pub fn spread_k(&self) -> f64 {
        0.0
    }
}

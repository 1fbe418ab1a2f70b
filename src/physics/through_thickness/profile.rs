//! The temperature difference across the layers that a steady load settles to.

use super::{HeatedLayer, excess_generation};

/// Temperature across the layers over the mean of the section, quadratic in each layer.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    pieces: Vec<Piece>,
    /// Curvature it gives the free strip, 1/m.
    pub curvature_per_m: f64,
    /// Hottest less coldest, K.
    pub spread_k: f64,
    /// Height of the hottest place over the first-listed face, m.
    pub hottest_m: f64,
    /// Height of the coldest place, m.
    pub coldest_m: f64,
}

/// θ = start − (flux s + excess s²/2)/k, s from the piece's lower face.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Piece {
    start_m: f64,
    thickness_m: f64,
    start_k: f64,
    flux_w_per_m2: f64,
    excess_w_per_m3: f64,
    conductivity_w_per_m_k: f64,
}

impl Piece {
    fn at(&self, s: f64) -> f64 {
        self.start_k
            - (self.flux_w_per_m2 + 0.5 * self.excess_w_per_m3 * s) * s
                / self.conductivity_w_per_m_k
    }

    /// ∫ θ ds and ∫ θ s ds over the piece.
    fn integrals(&self) -> (f64, f64) {
        let (t, k) = (self.thickness_m, self.conductivity_w_per_m_k);
        let (j, g) = (self.flux_w_per_m2 / k, self.excess_w_per_m3 / k);
        (
            t * (self.start_k - t * (j / 2.0 + g * t / 6.0)),
            t * t * (self.start_k / 2.0 - t * (j / 3.0 + g * t / 8.0)),
        )
    }

    /// Place inside where no heat flows, measured from its lower face.
    fn extremum(&self) -> Option<f64> {
        let s = -self.flux_w_per_m2 / self.excess_w_per_m3;
        (s > 0.0 && s < self.thickness_m).then_some(s)
    }
}

impl Profile {
    /// Temperature over the mean at a height, K; beyond the faces, that of the face.
    #[must_use]
    pub fn at_k(&self, z_m: f64) -> f64 {
        let piece = self
            .pieces
            .iter()
            .rfind(|piece| piece.start_m <= z_m)
            .or(self.pieces.first());
        piece.map_or(0.0, |piece| {
            piece.at((z_m - piece.start_m).clamp(0.0, piece.thickness_m))
        })
    }
}

/// Solves d/dz(k θ') = −(q_i − c_i q̄/c̄) exactly, with its thermal curvature by section theory. Layers of
/// no thickness are passed over; no layers give zero.
#[must_use]
pub fn quasi_steady(layers: &[HeatedLayer]) -> Profile {
    let mut pieces = Vec::with_capacity(layers.len());
    let (mut z, mut temperature_k, mut flux) = (0.0, 0.0, 0.0);
    let solid = || {
        layers
            .iter()
            .zip(excess_generation(layers))
            .filter(|(l, _)| l.thickness_m > 0.0)
    };
    let (mut heat, mut capacity) = (0.0, 0.0);
    for (layer, excess) in solid() {
        let piece = Piece {
            start_m: z,
            thickness_m: layer.thickness_m,
            start_k: temperature_k,
            flux_w_per_m2: flux,
            excess_w_per_m3: excess,
            conductivity_w_per_m_k: layer.conductivity_w_per_m_k,
        };
        z += layer.thickness_m;
        temperature_k = piece.at(layer.thickness_m);
        flux += excess * layer.thickness_m;
        heat += layer.heat_capacity_j_per_m3_k * piece.integrals().0;
        capacity += layer.heat_capacity_j_per_m3_k * layer.thickness_m;
        pieces.push(piece);
    }
    for piece in &mut pieces {
        piece.start_k -= heat / capacity;
    }
    let curvature_per_m = curvature(solid().map(|(layer, _)| layer).zip(&pieces));
    extremes(pieces, curvature_per_m)
}

/// (A M_th − B N_th)/(A D − B²) with strain α θ(z).
fn curvature<'a>(parts: impl Iterator<Item = (&'a HeatedLayer, &'a Piece)>) -> f64 {
    let (mut a, mut b, mut d, mut n_th, mut m_th) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (layer, piece) in parts {
        let (first, second) = piece.integrals();
        let stretch = layer.modulus_pa * layer.thickness_m;
        let middle = piece.start_m + 0.5 * layer.thickness_m;
        a += stretch;
        b += stretch * middle;
        d += stretch * (middle * middle + layer.thickness_m.powi(2) / 12.0);
        let push_per_k = layer.modulus_pa * layer.expansion_per_k;
        n_th += push_per_k * first;
        m_th += push_per_k * (piece.start_m * first + second);
    }
    if a > 0.0 {
        (m_th - b / a * n_th) / (d - b * b / a)
    } else {
        0.0
    }
}

fn extremes(pieces: Vec<Piece>, curvature_per_m: f64) -> Profile {
    let (mut hottest, mut coldest) = ((f64::NEG_INFINITY, 0.0), (f64::INFINITY, 0.0));
    for piece in &pieces {
        for s in [Some(0.0), piece.extremum(), Some(piece.thickness_m)]
            .into_iter()
            .flatten()
        {
            let (k, z) = (piece.at(s), piece.start_m + s);
            if k > hottest.0 {
                hottest = (k, z);
            }
            if k < coldest.0 {
                coldest = (k, z);
            }
        }
    }
    let spread_k = hottest.0 - coldest.0;
    Profile {
        spread_k: if pieces.is_empty() { 0.0 } else { spread_k },
        hottest_m: hottest.1,
        coldest_m: coldest.1,
        curvature_per_m,
        pieces,
    }
}

//! Bending and stretching of a section of any number of layers (composite beam).
//!
//! Stress in layer i: σ(z) = E_i (e0 + κ z − ε_i), ε_i its thermal strain. Balance of force and
//! moment gives `[A B; B D]{e0, κ} = {N_th, M_th}`. M. Vasudevan & W. Johnson, Appl. Sci. Res. B 9
//! (1961/62); the same three unknowns as C. H. Hsueh, S. Lee & T. J. Chuang, J. Appl. Mech. 70
//! (2003) 151. For two layers it is exactly the closed form of S. Timoshenko (1925).
//!
//! Curvature is positive when the last-listed side is the longer one.

/// One layer of a section, at its present temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SectionLayer {
    /// Thickness, m (≥ 0).
    pub thickness_m: f64,
    /// Young's modulus, Pa (> 0).
    pub modulus_pa: f64,
    /// Thermal strain since the temperature at which the strip was free of stress.
    pub thermal_strain: f64,
}

impl SectionLayer {
    /// Layer of a wide strip that is free to bow both ways, for the thermal curvature:
    /// E/(1 − ν), from equal biaxial stress.
    #[must_use]
    pub fn wide_for_thermal_curvature(self, poisson: f64) -> Self {
        Self {
            modulus_pa: self.modulus_pa / (1.0 - poisson),
            ..self
        }
    }

    /// Layer of a wide strip that is free to bow both ways, for the compliance to a force:
    /// E/(1 − ν²), cylindrical bending.
    #[must_use]
    pub fn wide_for_force(self, poisson: f64) -> Self {
        Self {
            modulus_pa: self.modulus_pa / (1.0 - poisson * poisson),
            ..self
        }
    }

    /// Layer of a strip held flat across its width (no strain across): E/(1 − ν²) and thermal
    /// strain times (1 + ν), for curvature and compliance alike.
    #[must_use]
    pub fn held_flat(self, poisson: f64) -> Self {
        Self {
            modulus_pa: self.modulus_pa / (1.0 - poisson * poisson),
            thermal_strain: self.thermal_strain * (1.0 + poisson),
            ..self
        }
    }
}

/// Stiffness and thermal load of a section, per unit width; z from the outer face of the
/// first-listed layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// A = Σ E t, N/m.
    pub a_n_per_m: f64,
    /// B = ∫ E z dz, N.
    pub b_n: f64,
    /// D = ∫ E z² dz, N m.
    pub d_n_m: f64,
    /// N_th = ∫ E ε dz, N/m.
    pub n_th_n_per_m: f64,
    /// M_th = ∫ E ε z dz, N.
    pub m_th_n: f64,
}

impl Section {
    /// Adds up the layers, listed from the low-expansion to the high-expansion side. Allocates
    /// nothing. Without any stiff layer the quotients below are NaN.
    ///
    /// ```
    /// use relatch::internals::physics::layered_section::{Section, SectionLayer};
    /// // Two equal layers, 100 K and 17.8e-6/K apart: kappa h = 1.5 x strain (Timoshenko 1925).
    /// let layer = |thermal_strain| SectionLayer { thickness_m: 0.4e-3, modulus_pa: 150e9, thermal_strain };
    /// let section = Section::of([layer(0.0), layer(17.8e-4)]);
    /// assert!((section.thermal_curvature_per_m() * 0.8e-3 - 1.5 * 17.8e-4).abs() < 1e-15);
    /// ```
    #[must_use]
    pub fn of(layers: impl IntoIterator<Item = SectionLayer>) -> Self {
        let mut section = Self {
            a_n_per_m: 0.0,
            b_n: 0.0,
            d_n_m: 0.0,
            n_th_n_per_m: 0.0,
            m_th_n: 0.0,
        };
        let mut z = 0.0;
        for layer in layers {
            let stretch = layer.modulus_pa * layer.thickness_m;
            let middle = z + 0.5 * layer.thickness_m;
            section.a_n_per_m += stretch;
            section.b_n += stretch * middle;
            section.d_n_m +=
                stretch * (middle * middle + layer.thickness_m * layer.thickness_m / 12.0);
            section.n_th_n_per_m += stretch * layer.thermal_strain;
            section.m_th_n += stretch * middle * layer.thermal_strain;
            z += layer.thickness_m;
        }
        section
    }

    /// Curvature of the strip free of force, above its stress-free curvature, 1/m.
    #[must_use]
    pub fn thermal_curvature_per_m(&self) -> f64 {
        (self.m_th_n - self.neutral_axis_m() * self.n_th_n_per_m) / self.bending_stiffness_n_m()
    }

    /// Bending stiffness per unit width D − B²/A, N m; times the width: EI.
    #[must_use]
    pub fn bending_stiffness_n_m(&self) -> f64 {
        self.d_n_m - self.b_n * self.neutral_axis_m()
    }

    /// Axial stiffness per unit width A, N/m; times the width: EA.
    #[must_use]
    pub fn axial_stiffness_n_per_m(&self) -> f64 {
        self.a_n_per_m
    }

    /// Strain of the neutral axis without force, N_th/A: how much a free strip grows longer.
    #[must_use]
    pub fn free_axial_strain(&self) -> f64 {
        self.n_th_n_per_m / self.a_n_per_m
    }

    /// Height at which an axial force does not bend the strip, B/A, m.
    #[must_use]
    pub fn neutral_axis_m(&self) -> f64 {
        self.b_n / self.a_n_per_m
    }
}

/// Stress along the strip at the two faces of a layer, Pa; tension is positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LayerStress {
    /// At the face towards the first-listed side.
    pub bottom_pa: f64,
    /// At the face towards the last-listed side.
    pub top_pa: f64,
}

impl LayerStress {
    /// The larger of the two magnitudes; within a layer stress is linear, so nothing exceeds it.
    #[must_use]
    pub fn largest_pa(&self) -> f64 {
        self.bottom_pa.abs().max(self.top_pa.abs())
    }
}

/// Stress at both faces of each layer: the thermal state of the free strip plus that of an axial
/// force (tension positive, through the neutral axis) and a bending moment (positive when it adds
/// curvature), both per unit width.
#[must_use]
pub fn stresses(
    layers: &[SectionLayer],
    axial_force_n_per_m: f64,
    moment_n: f64,
) -> Vec<LayerStress> {
    let section = Section::of(layers.iter().copied());
    let axis_m = section.neutral_axis_m();
    let axis_strain =
        section.free_axial_strain() + axial_force_n_per_m / section.axial_stiffness_n_per_m();
    let curvature = section.thermal_curvature_per_m() + moment_n / section.bending_stiffness_n_m();
    let mut z = 0.0;
    layers
        .iter()
        .map(|layer| {
            let stress = |z: f64| {
                layer.modulus_pa * (axis_strain + curvature * (z - axis_m) - layer.thermal_strain)
            };
            let bottom_pa = stress(z);
            z += layer.thickness_m;
            LayerStress {
                bottom_pa,
                top_pa: stress(z),
            }
        })
        .collect()
}

//! One step of Rodas5P: an L-stable, stiffly accurate Rosenbrock-Wanner method of order 5 with an
//! embedded method of order 4 and a dense output of order 4.
//!
//! Source of the coefficients: G. Steinebach, "Construction of Rosenbrock-Wanner method Rodas5P and
//! numerical benchmarks within the Julia Differential Equations package", BIT Numer. Math. 63:27
//! (2023). Written in the transformed variables of E. Hairer & G. Wanner, Solving Ordinary
//! Differential Equations II, 2nd ed. (1996), IV.7.

use super::{DenseStep, ProfileMatrix, System};

const GAMMA: f64 = 0.211_937_563_194_290_14;
const STAGES: usize = 8;

/// `a[i][j]`: weights of earlier stages in the argument of stage `i` (stages 7 and 8 add the last
/// stage to the previous argument).
const A: [&[f64]; 6] = [
    &[],
    &[3.0],
    &[2.849394379747939, 0.45842242204463923],
    &[-6.954028509809101, 2.489845061869568, -10.358996098473584],
    &[
        2.8029986275628964,
        0.5072464736228206,
        -0.3988312541770524,
        -0.04721187230404641,
    ],
    &[
        -7.502846399306121,
        2.561846144803919,
        -11.627539656261098,
        -0.18268767659942256,
        0.030198172008377946,
    ],
];

const C: [&[f64]; STAGES] = [
    &[],
    &[-14.155112264123755],
    &[-17.97296035885952, -2.859693295451294],
    &[147.12150275711716, -1.41221402718213, 71.68940251302358],
    &[
        165.43517024871676,
        -0.4592823456491126,
        42.90938336958603,
        -5.961986721573306,
    ],
    &[
        24.854864614690072,
        -3.0009227002832186,
        47.4931110020768,
        5.5814197821558125,
        -0.6610691825249471,
    ],
    &[
        30.91273214028599,
        -3.1208243349937974,
        77.79954646070892,
        34.28646028294783,
        -19.097331116725623,
        -28.087943162872662,
    ],
    &[
        37.80277123390563,
        -3.2571969029072276,
        112.26918849496327,
        66.9347231244047,
        -40.06618937091002,
        -54.66780262877968,
        -9.48861652309627,
    ],
];

const NODES: [f64; STAGES] = [
    0.0,
    0.6358126895828704,
    0.4095798393397535,
    0.9769306725060716,
    0.4288403609558664,
    1.0,
    1.0,
    1.0,
];

const TIME_SLOPE: [f64; STAGES] = [
    0.21193756319429014,
    -0.42387512638858027,
    -0.3384627126235924,
    1.8046452872882734,
    2.325825639765069,
    0.0,
    0.0,
    0.0,
];

/// Weights of the stages in the three vectors of the dense output.
const DENSE: [[f64; STAGES]; 3] = [
    [
        25.948786856663858,
        -2.5579724845846235,
        10.433815404888879,
        -2.3679251022685204,
        0.524948541321073,
        1.1241088310450404,
        0.4272876194431874,
        -0.17202221070155493,
    ],
    [
        -9.91568850695171,
        -0.9689944594115154,
        3.0438037242978453,
        -24.495224566215796,
        20.176138334709044,
        15.98066361424651,
        -6.789040303419874,
        -6.710236069923372,
    ],
    [
        11.419903575922262,
        2.8879645146136994,
        72.92137995996029,
        80.12511834622643,
        -52.072871366152654,
        -59.78993625266729,
        -0.15582684282751913,
        4.883087185713722,
    ],
];

/// Work space of the stepper.
pub struct Rodas5p {
    jacobian: ProfileMatrix,
    factors: ProfileMatrix,
    dfdt: Vec<f64>,
    stages: Vec<Vec<f64>>,
    argument: Vec<f64>,
    right: Vec<f64>,
    /// Right-hand sides evaluated.
    pub rhs_count: usize,
    /// Jacobians evaluated.
    pub jacobian_count: usize,
    /// Factorisations.
    pub factorisation_count: usize,
}

impl Rodas5p {
    /// Work space for one problem.
    pub fn new(system: &impl System) -> Rodas5p {
        let shape = system.shape();
        let n = shape.len();
        Rodas5p {
            jacobian: ProfileMatrix::zeros(shape),
            factors: ProfileMatrix::zeros(shape),
            dfdt: vec![0.0; n],
            stages: vec![vec![0.0; n]; STAGES],
            argument: vec![0.0; n],
            right: vec![0.0; n],
            rhs_count: 0,
            jacobian_count: 0,
            factorisation_count: 0,
        }
    }

    /// Evaluate the Jacobian and the time slope at the start of the next step.
    pub fn linearise(&mut self, system: &impl System, t: f64, y: &[f64]) {
        self.jacobian.clear();
        system.jacobian(t, y, &mut self.jacobian);
        self.dfdt.fill(0.0);
        system.time_slope(t, y, &mut self.dfdt);
        self.jacobian_count += 1;
    }

    /// The Jacobian of the last [`Rodas5p::linearise`].
    pub fn jacobian(&self) -> &ProfileMatrix {
        &self.jacobian
    }

    /// Step from `(t, y)` by `h` with the present linearisation. Writes the new state and the error
    /// estimate; false when the matrix is singular or a value is not finite.
    #[must_use]
    pub fn step(
        &mut self,
        system: &impl System,
        t: f64,
        y: &[f64],
        h: f64,
        new: &mut [f64],
        error: &mut [f64],
    ) -> bool {
        self.factors
            .set_shifted_negative(&self.jacobian, 1.0 / (GAMMA * h));
        self.factorisation_count += 1;
        if !self.factors.factorise() {
            return false;
        }
        for s in 0..STAGES {
            if s < A.len() {
                self.argument.copy_from_slice(y);
                for (a, k) in A[s].iter().zip(&self.stages) {
                    add_scaled(&mut self.argument, *a, k);
                }
            } else {
                add_scaled(&mut self.argument, 1.0, &self.stages[s - 1]);
            }
            system.rhs(t + NODES[s] * h, &self.argument, &mut self.right);
            self.rhs_count += 1;
            for (c, k) in C[s].iter().zip(&self.stages) {
                add_scaled(&mut self.right, c / h, k);
            }
            if TIME_SLOPE[s] != 0.0 {
                add_scaled(&mut self.right, TIME_SLOPE[s] * h, &self.dfdt);
            }
            self.factors.solve(&mut self.right);
            self.stages[s].copy_from_slice(&self.right);
        }
        let last = &self.stages[STAGES - 1];
        for i in 0..y.len() {
            new[i] = self.argument[i] + last[i];
            error[i] = last[i];
        }
        new.iter().all(|v| v.is_finite())
    }

    /// Dense output of the step just taken.
    pub fn dense(&self, t: f64, h: f64, y: &[f64], new: &[f64], dense: &mut DenseStep) {
        dense.t = t;
        dense.h = h;
        dense.y0.clear();
        dense.y0.extend_from_slice(y);
        dense.y1.clear();
        dense.y1.extend_from_slice(new);
        for (weights, out) in DENSE.iter().zip(&mut dense.bend) {
            out.clear();
            out.resize(y.len(), 0.0);
            for (w, k) in weights.iter().zip(&self.stages) {
                add_scaled(out, *w, k);
            }
        }
    }
}

fn add_scaled(y: &mut [f64], factor: f64, x: &[f64]) {
    for (a, b) in y.iter_mut().zip(x) {
        *a += factor * b;
    }
}

//! Coefficients of Rodas5P: an L-stable, stiffly accurate Rosenbrock-Wanner method of order 5 with
//! an embedded method of order 4 and a dense output of order 4.
//!
//! Source: G. Steinebach, "Construction of Rosenbrock-Wanner method Rodas5P and numerical
//! benchmarks within the Julia Differential Equations package", BIT Numer. Math. 63:27 (2023).
//! Written in the transformed variables of E. Hairer & G. Wanner, Solving Ordinary Differential
//! Equations II, 2nd ed. (1996), IV.7.

/// Diagonal coefficient.
pub const GAMMA: f64 = 0.211_937_563_194_290_14;
/// Stages of a step.
pub const STAGES: usize = 8;

/// `a[i][j]`: weights of earlier stages in the argument of stage `i` (stages 7 and 8 add the last
/// stage to the previous argument).
pub const A: [&[f64]; 6] = [
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

/// Weights of earlier stages, over the step, in the right-hand side of each stage.
pub const C: [&[f64]; STAGES] = [
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

/// Times of the stages as parts of the step.
pub const NODES: [f64; STAGES] = [
    0.0,
    0.6358126895828704,
    0.4095798393397535,
    0.9769306725060716,
    0.4288403609558664,
    1.0,
    1.0,
    1.0,
];

/// Weights of the slope against time, times the step.
pub const TIME_SLOPE: [f64; STAGES] = [
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
pub const DENSE: [[f64; STAGES]; 3] = [
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

//! Eight numbers handled at once, whatever the machine's registers hold.
//!
//! The same source serves every width: one register of 512 bits, two of 256, or eight numbers that
//! the compiler lays into what there is. Which one is chosen when the program runs. All do the same
//! operations on the same eight numbers, add them up in the same order and round once where they
//! multiply and add, so that all give the same bytes.

use pulp::{Scalar512b, Simd, WithSimd};
use std::any::TypeId;
use std::ops::{Add, Deref, DerefMut, Div, Mul, Neg, Sub};
use std::sync::atomic::{AtomicUsize, Ordering};

/// Numbers that are handled at once.
pub const MOST_LANES: usize = 8;

/// Bits of the widest registers that may be used; speed depends on it and nothing else.
static MOST_BITS: AtomicUsize = AtomicUsize::new(512);

/// Use no registers wider than this, in bits.
pub fn use_at_most(bits: usize) {
    MOST_BITS.store(bits, Ordering::Relaxed);
}

/// Registers of one kind of machine.
enum Registers {
    #[cfg(target_arch = "x86_64")]
    Bits512(pulp::x86::V4),
    #[cfg(target_arch = "x86_64")]
    Bits256(pulp::x86::V3),
    /// Of 128 bits, or none.
    Plain,
}

/// The widest registers of this machine that may be used.
fn registers_to_use() -> Registers {
    #[cfg(target_arch = "x86_64")]
    {
        let most = MOST_BITS.load(Ordering::Relaxed);
        if most >= 512
            && let Some(simd) = pulp::x86::V4::try_new()
        {
            return Registers::Bits512(simd);
        }
        if most >= 256
            && let Some(simd) = pulp::x86::V3::try_new()
        {
            return Registers::Bits256(simd);
        }
    }
    Registers::Plain
}

/// Bits of the registers that are used: 512, 256, or 128 for whatever there is.
pub fn register_bits() -> usize {
    match registers_to_use() {
        #[cfg(target_arch = "x86_64")]
        Registers::Bits512(_) => 512,
        #[cfg(target_arch = "x86_64")]
        Registers::Bits256(_) => 256,
        Registers::Plain => 128,
    }
}

/// Do some work in the widest registers of this machine that may be used.
pub fn dispatch<Op: WithSimd>(work: Op) -> Op::Output {
    match registers_to_use() {
        #[cfg(target_arch = "x86_64")]
        Registers::Bits512(simd) => Simd::vectorize(simd, work),
        #[cfg(target_arch = "x86_64")]
        Registers::Bits256(simd) => Simd::vectorize(simd, Halves(work, simd)),
        Registers::Plain => work.with_simd(Scalar512b),
    }
}

/// Work whose eight numbers lie in two registers of 256 bits.
#[cfg(target_arch = "x86_64")]
struct Halves<Op>(Op, pulp::x86::V3);

#[cfg(target_arch = "x86_64")]
impl<Op: WithSimd> WithSimd for Halves<Op> {
    type Output = Op::Output;
    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> Op::Output {
        self.0.with_simd(pulp::x86::V3_512b(self.1))
    }
}

/// As many numbers as a register of `S` holds.
#[derive(Debug, Clone, Copy)]
pub struct Wide<S: Simd> {
    simd: S,
    v: S::f64s,
}

/// One truth value a number.
#[derive(Debug, Clone, Copy)]
pub struct Mask<S: Simd> {
    simd: S,
    m: S::m64s,
}

/// A body with the instructions of a register, as a function of its own: compiled once a width,
/// however many call it. Of what it calls only `#[inline(always)]` is compiled with these
/// instructions, too.
macro_rules! vectorized {
    ($simd:expr, $body:expr) => {
        $crate::solve::wide::vectorize(
            $simd,
            #[inline(always)]
            || $body,
        )
    };
}
pub(crate) use vectorized;

/// What `vectorized!` calls; a closure that is not `#[inline(always)]` has none of the
/// instructions.
#[inline(always)]
pub fn vectorize<S: Simd, R>(simd: S, body: impl FnOnce() -> R) -> R {
    struct Body<F>(F);
    impl<R, F: FnOnce() -> R> WithSimd for Body<F> {
        type Output = R;
        #[inline(always)]
        fn with_simd<S: Simd>(self, _: S) -> R {
            (self.0)()
        }
    }
    simd.vectorize(Body(body))
}

/// A slice as registers; its length must be a multiple of the register's.
#[inline(always)]
pub fn registers<S: Simd>(x: &[f64]) -> &[S::f64s] {
    S::as_simd_f64s(x).0
}

/// The same, to be written.
#[inline(always)]
pub fn registers_mut<S: Simd>(x: &mut [f64]) -> &mut [S::f64s] {
    S::as_mut_simd_f64s(x).0
}

/// A row of numbers that starts where a register likes to: a register that straddles two lines of
/// the cache costs twice.
#[derive(Debug)]
pub struct Row {
    room: Vec<f64>,
    start: usize,
    len: usize,
}

/// Bytes of a line of the cache and of the widest register.
const LINE: usize = 64;

impl Row {
    /// A row of zeros.
    pub fn zeros(len: usize) -> Row {
        let room = vec![0.0; len + LINE / size_of::<f64>()];
        let start = room
            .as_ptr()
            .align_offset(LINE)
            .min(LINE / size_of::<f64>());
        Row { room, start, len }
    }

    /// The numbers of a slice, and zeros up to a length.
    pub fn padded(x: &[f64], len: usize) -> Row {
        let mut row = Row::zeros(len);
        row[..x.len()].copy_from_slice(x);
        row
    }
}

impl Clone for Row {
    fn clone(&self) -> Row {
        Row::padded(self, self.len)
    }
}

impl Deref for Row {
    type Target = [f64];
    #[inline(always)]
    fn deref(&self) -> &[f64] {
        &self.room[self.start..self.start + self.len]
    }
}

impl DerefMut for Row {
    #[inline(always)]
    fn deref_mut(&mut self) -> &mut [f64] {
        &mut self.room[self.start..self.start + self.len]
    }
}

/// `out = y + h x`, number by number; `h` may differ from place to place of a register.
#[inline(always)]
pub fn sum_scaled<S: Simd>(simd: S, y: &[f64], x: &[f64], h: Wide<S>, out: &mut [f64]) {
    let (y, x) = (registers::<S>(y), registers::<S>(x));
    for (s, out) in registers_mut::<S>(out).iter_mut().enumerate() {
        *out = Wide::of(simd, x[s])
            .times_plus(h, Wide::of(simd, y[s]))
            .raw();
    }
}

/// `y += h x`, number by number.
#[inline(always)]
pub fn add_scaled<S: Simd>(simd: S, y: &mut [f64], x: &[f64], h: Wide<S>) {
    for (y, x) in registers_mut::<S>(y).iter_mut().zip(registers::<S>(x)) {
        *y = Wide::of(simd, *x).times_plus(h, Wide::of(simd, *y)).raw();
    }
}

/// `a * b + c`, rounded once, where no register does it: for most machines a call a number, so one
/// place for all.
#[cfg_attr(not(target_family = "wasm"), inline(never))]
#[cfg_attr(target_family = "wasm", inline(always))]
fn each_times_plus(
    a: &[f64; MOST_LANES],
    b: &[f64; MOST_LANES],
    c: &[f64; MOST_LANES],
) -> [f64; MOST_LANES] {
    std::array::from_fn(|k| match cfg!(target_family = "wasm") {
        // There nothing does it, and to do it by hand takes forty times as long (60 ns a number in
        // V8).
        true => a[k] * b[k] + c[k],
        false => a[k].mul_add(b[k], c[k]),
    })
}

/// The same number in every place.
#[inline(always)]
pub fn splat<S: Simd>(simd: S, x: f64) -> Wide<S> {
    Wide::splat(simd, x)
}

/// What `y` lacks of the inverse fourth root of `x`: `1 - x y^4`.
#[inline(always)]
fn error<S: Simd>(simd: S, x: Wide<S>, y: Wide<S>) -> Wide<S> {
    let squared = y * y;
    (-x).times_plus(squared * squared, splat(simd, 1.0))
}

impl<S: Simd> Wide<S> {
    /// The same number in every place.
    #[inline(always)]
    pub fn splat(simd: S, x: f64) -> Wide<S> {
        Wide {
            simd,
            v: simd.splat_f64s(x),
        }
    }

    /// A register.
    #[inline(always)]
    pub fn of(simd: S, v: S::f64s) -> Wide<S> {
        Wide { simd, v }
    }

    /// The register.
    #[inline(always)]
    pub fn raw(self) -> S::f64s {
        self.v
    }

    /// The first numbers of a slice.
    #[inline(always)]
    pub fn load(simd: S, x: &[f64]) -> Wide<S> {
        Wide {
            simd,
            v: registers::<S>(x)[0],
        }
    }

    /// Write the numbers to the front of a slice.
    #[inline(always)]
    pub fn store(self, x: &mut [f64]) {
        registers_mut::<S>(x)[0] = self.v;
    }

    /// Smallest and largest number.
    #[inline(always)]
    pub fn range(self) -> (f64, f64) {
        (
            self.simd.reduce_min_f64s(self.v),
            self.simd.reduce_max_f64s(self.v),
        )
    }

    /// `self * b + c`.
    #[inline(always)]
    pub fn times_plus(self, b: Wide<S>, c: Wide<S>) -> Wide<S> {
        let v = if TypeId::of::<S>() == TypeId::of::<Scalar512b>() {
            let [a, b, c] = [self.v, b.v, c.v].map(bytemuck::cast);
            bytemuck::cast(each_times_plus(&a, &b, &c))
        } else {
            self.simd.mul_add_e_f64s(self.v, b.v, c.v)
        };
        let simd = self.simd;
        Wide { simd, v }
    }

    /// Larger of two.
    #[inline(always)]
    pub fn max(self, b: Wide<S>) -> Wide<S> {
        Wide {
            simd: self.simd,
            v: self.simd.max_f64s(self.v, b.v),
        }
    }

    /// Smaller of two.
    #[inline(always)]
    pub fn min(self, b: Wide<S>) -> Wide<S> {
        Wide {
            simd: self.simd,
            v: self.simd.min_f64s(self.v, b.v),
        }
    }

    /// Magnitude.
    #[inline(always)]
    pub fn abs(self) -> Wide<S> {
        self.max(-self)
    }

    /// Square root.
    #[inline(always)]
    pub fn sqrt(self) -> Wide<S> {
        Wide {
            simd: self.simd,
            v: self.simd.sqrt_f64s(self.v),
        }
    }

    /// Fourth root of numbers that are positive, to a few parts in 1e15; zero gives (almost) zero.
    ///
    /// Division and square root share one slow unit, so that two square roots cost more than all
    /// else in a right-hand side. The root's inverse is started from a quarter of the exponent's
    /// bits (12 %), improved by the cubic that is best over that error; two terms of the binomial
    /// series close the rest.
    #[inline(always)]
    pub fn fourth_root(self) -> Wide<S> {
        let simd = self.simd;
        let x = self.max(splat(simd, 1e-200));
        let bits: S::u32s = bytemuck::cast(x.v);
        let quarter = simd.wrapping_dyn_shr_u32s(bits, simd.splat_u32s(2));
        let start = simd.sub_u64s(
            simd.splat_u64s(0x4feb_0000_0000_0000),
            bytemuck::cast(quarter),
        );
        let y = Wide {
            simd,
            v: bytemuck::cast(start),
        };
        let e = error(simd, x, y);
        let better = splat(simd, 1.195_165_02e-1)
            .times_plus(e, splat(simd, 1.577_068_20e-1))
            .times_plus(e, splat(simd, 2.499_882_16e-1))
            .times_plus(e, splat(simd, -2.769_498_40e-6));
        let y = better.times_plus(y, y);
        // With e = 1 - x y^4 the root is x y^3 (1 - e)^(-3/4).
        let squared = y * y;
        let nearly = x * y * squared;
        let e = (-x).times_plus(squared * squared, splat(simd, 1.0));
        let best = splat(simd, 21.0 / 32.0).times_plus(e, splat(simd, 0.75));
        (best * e).times_plus(nearly, nearly)
    }

    /// Sum of all places.
    #[inline(always)]
    pub fn sum(self) -> f64 {
        self.simd.reduce_sum_f64s(self.v)
    }

    /// Where `self < b`.
    #[inline(always)]
    pub fn below(self, b: Wide<S>) -> Mask<S> {
        Mask {
            simd: self.simd,
            m: self.simd.less_than_f64s(self.v, b.v),
        }
    }
}

impl<S: Simd> Mask<S> {
    /// `yes` where true, `no` elsewhere.
    #[inline(always)]
    pub fn choose(self, yes: Wide<S>, no: Wide<S>) -> Wide<S> {
        Wide {
            simd: self.simd,
            v: self.simd.select_f64s(self.m, yes.v, no.v),
        }
    }
}

macro_rules! operation {
    ($trait:ident, $name:ident, $how:ident) => {
        impl<S: Simd> $trait for Wide<S> {
            type Output = Wide<S>;
            #[inline(always)]
            fn $name(self, b: Wide<S>) -> Wide<S> {
                Wide {
                    simd: self.simd,
                    v: self.simd.$how(self.v, b.v),
                }
            }
        }
    };
}
operation!(Add, add, add_f64s);
operation!(Sub, sub, sub_f64s);
operation!(Mul, mul, mul_f64s);
operation!(Div, div, div_f64s);

impl<S: Simd> Neg for Wide<S> {
    type Output = Wide<S>;
    #[inline(always)]
    fn neg(self) -> Wide<S> {
        Wide::splat(self.simd, 0.0) - self
    }
}

//! The unknown-metal desk: from shop tests to a yield strength that may be designed with.
//!
//! Every row of the table of metals is something that the sheet may be, with its strength as a distribution; so is "none of these". Each
//! reading is likelier for some of them than for others, by the mechanics of the test and the error of the instrument. What comes out
//! is how likely each is after all readings, and how the yield strength is then distributed. Derived: docs/method.md, "The
//! unknown-metal desk".

mod evidence;
mod hypothesis;
mod mechanics;
mod metal;
mod next;

pub use mechanics::{
    brinell, curvature_left, flow_stress_of_bend, hardened, hardened_in_bending, hardening_exponent,
    proof_strain, vickers,
};

pub use metal::metal;

use crate::material::Library;
use crate::model::{BenchPrior, BenchTest, ShopTest};
use crate::results::{Contradiction, GradeChance, LikelyStress, SheetGrade, TestSays};
use crate::units::{Length, Stress};
use evidence::{Node, STEP, STEPS, Says, fits, log, nodes, says, strength, together};
use hypothesis::{Hypothesis, hypotheses};
use std::cmp::Ordering;

/// How many times likelier of two sheets than of one the readings of two tests have to be to be called a contradiction. chosen: the tests
/// hold how seldom tests of one sheet come to it.
const CONTRADICTS: f64 = 10.0;

/// Shares of the distribution that are told.
const LOW: f64 = 0.05;
const HIGH: f64 = 0.95;

/// Grades every sheet that tests speak of, in the order of the file, and says what to try next. `thickness` is that of a sheet where a
/// plate of it is in the file; the tests' own goes before.
#[must_use]
pub fn grade(
    tests: &[BenchTest],
    library: &Library,
    prior: &BenchPrior,
    thickness: &dyn Fn(&str) -> Option<Length>,
) -> Vec<SheetGrade> {
    sheets(tests)
        .into_iter()
        .map(|sheet| {
            let own: Vec<&ShopTest> = tests.iter().filter(|t| t.sheet == sheet).map(|t| &t.test).collect();
            let thick = thinnest(&own).or_else(|| thickness(sheet));
            let desk = Desk::new(hypotheses(library, thick, prior), &own);
            let next = next::next(&desk, &own, thick);
            SheetGrade { next, ..desk.graded(sheet, &own, prior) }
        })
        .collect()
}

/// The least thickness that tests of one sheet say, whatever their order.
#[must_use]
pub fn thinnest(tests: &[&ShopTest]) -> Option<Length> {
    tests.iter().filter_map(|test| test.thickness()).reduce(Length::min)
}

/// Names of the sheets that tests speak of, in their order.
#[must_use]
pub fn sheets(tests: &[BenchTest]) -> Vec<&str> {
    let mut sheets: Vec<&str> = Vec::new();
    for test in tests {
        if !sheets.contains(&test.sheet.as_str()) {
            sheets.push(&test.sheet);
        }
    }
    sheets
}

/// Grades one sheet and looks for no next test, which takes longest.
#[must_use]
pub fn one_sheet(
    sheet: &str,
    tests: &[&ShopTest],
    library: &Library,
    thickness: Option<Length>,
    prior: &BenchPrior,
) -> SheetGrade {
    Desk::new(hypotheses(library, thickness, prior), tests).graded(sheet, tests, prior)
}

/// A hypothesis made ready, with what each test says of it.
struct Held {
    of: Hypothesis,
    nodes: Vec<Node>,
    prior: Vec<f64>,
    says: Vec<Says>,
}

/// All hypotheses and tests of one sheet.
struct Desk {
    held: Vec<Held>,
    tests: usize,
}

/// What is known after some of the tests.
struct Posterior {
    /// How likely those tests' readings are at all, up to a factor that each test has.
    evidence: f64,
    /// Of each hypothesis.
    chances: Vec<f64>,
    /// Of each strength of the grid.
    strengths: Vec<f64>,
}

impl Desk {
    fn new(all: Vec<Hypothesis>, tests: &[&ShopTest]) -> Self {
        let held = all
            .into_iter()
            .map(|of| {
                let nodes = nodes(&of);
                let says = tests.iter().map(|test| says(test, &of, &nodes)).collect();
                Held { prior: evidence::prior(&of), nodes, says, of }
            })
            .collect();
        Self { held, tests: tests.len() }
    }

    /// What all tests say together, and each of them alone.
    fn graded(&self, sheet: &str, tests: &[&ShopTest], prior: &BenchPrior) -> SheetGrade {
        let all: Vec<usize> = (0..self.tests).collect();
        let found = self.posterior(&all);
        let each = || self.held.iter().zip(&found.chances);
        let mut grades: Vec<GradeChance> = each()
            .filter_map(|(held, chance)| {
                let name = held.of.name.clone()?;
                Some(GradeChance { name, probability: *chance, before: held.of.prior })
            })
            .collect();
        grades.sort_by(|a, b| b.probability.total_cmp(&a.probability));
        let alone = |(i, test): (usize, &&ShopTest)| TestSays {
            kind: test.kind(),
            yield_strength: self.posterior(&[i]).likely(),
        };
        SheetGrade {
            sheet: sheet.to_owned(),
            tests: tests.iter().enumerate().map(alone).collect(),
            yield_strength: found.likely(),
            modulus: self.modulus(&found),
            grades,
            none_of_these: each().filter(|(held, _)| held.of.name.is_none()).map(|(_, c)| c).sum(),
            none_before: prior.none_of_these,
            contradictions: self.contradictions(),
            misfits: self.misfits(tests, &found),
            next: None,
        }
    }

    /// What is known after these tests.
    fn posterior(&self, of: &[usize]) -> Posterior {
        let mut chances = Vec::with_capacity(self.held.len());
        let mut strengths = vec![0.0; STEPS];
        for held in &self.held {
            let own = held.after(of);
            chances.push(own.iter().sum());
            strengths.iter_mut().zip(&own).for_each(|(all, own)| *all += own);
        }
        let evidence: f64 = chances.iter().sum();
        let scale = evidence.max(f64::MIN_POSITIVE);
        chances.iter_mut().for_each(|c| *c /= scale);
        strengths.iter_mut().for_each(|s| *s /= scale);
        Posterior { evidence, chances, strengths }
    }

    /// The likeliest stiffness: that of the likeliest hypothesis.
    fn modulus(&self, found: &Posterior) -> Stress {
        let best = self.held.iter().zip(&found.chances).max_by(|(_, a), (_, b)| a.total_cmp(b));
        best.map_or_else(Stress::default, |(held, _)| held.of.modulus.0)
    }

    /// Tests that fit nothing a sheet may be; all of them where together they leave nothing.
    fn misfits(&self, tests: &[&ShopTest], found: &Posterior) -> Vec<usize> {
        let nothing = found.evidence < f64::MIN_POSITIVE;
        let fits = |(i, test): (usize, &&ShopTest)| {
            self.held.iter().any(|held| held.says.get(i).is_some_and(|says| fits(test, says, &held.of)))
        };
        let all = tests.iter().enumerate();
        all.filter(|one| nothing || !fits(*one)).map(|(i, _)| i).collect()
    }

    /// Pairs of tests whose readings are hardly of one sheet.
    fn contradictions(&self) -> Vec<Contradiction> {
        let alone: Vec<f64> = (0..self.tests).map(|i| self.posterior(&[i]).evidence).collect();
        let mut found = Vec::new();
        for (i, first) in alone.iter().enumerate() {
            for (j, second) in alone.iter().enumerate().skip(i + 1) {
                let against = first * second / self.posterior(&[i, j]).evidence.max(f64::MIN_POSITIVE);
                if against > CONTRADICTS {
                    found.push(Contradiction { tests: (i, j), against });
                }
            }
        }
        found.sort_by(|a, b| b.against.partial_cmp(&a.against).unwrap_or(Ordering::Equal));
        found
    }
}

impl Held {
    /// How likely each strength is together with these tests' readings.
    fn after(&self, of: &[usize]) -> Vec<f64> {
        let said = || of.iter().filter_map(|i| self.says.get(*i));
        let density = said().filter_map(|s| match s {
            Says::Density(ln, off) => Some((*ln, *off)),
            _ => None,
        });
        let conductivity = said().filter_map(|s| match s {
            Says::Conductivity(ln, off) => Some((*ln, *off)),
            _ => None,
        });
        let once = said().map(|s| if let Says::Once(chance) = s { *chance } else { 1.0 });
        let common = self.of.prior
            * once.product::<f64>()
            * together(self.of.density, density)
            * together(self.of.conductivity, conductivity);
        let mut found = vec![0.0; self.prior.len()];
        // Where no test tells combinations apart, one stands for all.
        let one = said().all(|s| matches!(s, Says::Once(_) | Says::Density(..) | Says::Conductivity(..)));
        for (n, node) in self.nodes.iter().enumerate() {
            let each = said().map(|s| match s {
                Says::Each(chances) => chances.get(n).copied().unwrap_or_default(),
                _ => 1.0,
            });
            let weight = common * if one { 1.0 } else { node.weight * each.product::<f64>() };
            let mut own: Vec<f64> = self.prior.iter().map(|p| p * weight).collect();
            for s in said() {
                if let Says::Strengths(all) = s
                    && let Some(chances) = all.get(n)
                {
                    own.iter_mut().zip(chances).for_each(|(own, chance)| *own *= chance);
                }
            }
            found.iter_mut().zip(&own).for_each(|(all, own)| *all += own);
            if one {
                break;
            }
        }
        found
    }
}

impl Posterior {
    /// The strength that a share of all sheets lies below.
    fn quantile(&self, share: f64) -> Stress {
        let mut before = 0.0;
        for (i, chance) in self.strengths.iter().enumerate() {
            if before + chance >= share {
                // Every place of the grid stands for half a step on both sides of it.
                let inside = if *chance > 0.0 { (share - before) / chance } else { 0.5 };
                return strength(i) * (STEP * (inside - 0.5)).exp();
            }
            before += chance;
        }
        // Where nothing is left, the weakest.
        strength(0)
    }

    fn likely(&self) -> LikelyStress {
        LikelyStress { p05: self.quantile(LOW), p50: self.quantile(0.5), p95: self.quantile(HIGH) }
    }

    /// Standard deviation of the strength's logarithm.
    fn width(&self) -> f64 {
        let at = |i: usize| log(strength(i));
        let mean: f64 = self.strengths.iter().enumerate().map(|(i, s)| s * at(i)).sum();
        self.strengths.iter().enumerate().map(|(i, s)| s * (at(i) - mean).powi(2)).sum::<f64>().sqrt()
    }
}

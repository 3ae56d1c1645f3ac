//! The unknown-metal desk: from shop tests to a yield strength that may be designed with.
//!
//! Every row of the table of metals is something that the sheet may be, with its strength as a distribution; so is "none of these". Each
//! reading is likelier for some of them than for others, by the mechanics of the test and the error of the instrument. What comes out
//! is how likely each is after all readings, and how the yield strength is then distributed. Derived: docs/method.md, "The
//! unknown-metal desk".

mod asked;
mod believe;
mod claims;
mod drop;
mod evidence;
mod hypothesis;
mod mechanics;
mod metal;
mod next;
mod strip;

pub use asked::asked;
pub use drop::follow_drops;
pub use evidence::hardness_told;
pub use mechanics::{
    brinell, conductivity_of_strip, curvature_left, flow_stress_of_bend, hardened, hardened_in_bending,
    hardening_exponent, iacs, kept_of_bend, proof_strain, vickers,
};
pub use metal::metal;

use crate::material::{Family, Library, Metal};
use crate::model::{Bench, BenchPrior, ShopTest, TestKind};
use crate::results::{FamilyChance, GradeChance, LikelyStress, SheetGrade, TestSays};
use crate::units::{Length, MassDensity, Stress};
use believe::Side;
use claims::{claimed, folded};
use evidence::{Node, STEP, STEPS, Says, blurred, fits, log, nodes, says, strength, together};
use hypothesis::{Hypothesis, hypotheses, known_hardness};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;

/// Chance that every test of strength has to leave a family to be reckoned with. chosen: with less it is not made so weak or so strong.
const OUT_OF_QUESTION: f64 = 1e-6;

/// How many times the strength that the other tests leave a name has to leave for it to be what decides. chosen.
const BY_NAME: f64 = 1.1;

/// Shares of the distribution that are told.
const LOW: f64 = 0.05;
const HIGH: f64 = 0.95;

/// Grades every sheet that was tested, in the order of the file, and says what to try next.
#[must_use]
pub fn grade(bench: &Bench, library: &Library) -> Vec<SheetGrade> {
    bench
        .sheets()
        .into_iter()
        .map(|sheet| {
            let tests = bench.of(sheet);
            let desk = Desk::new(&tests, library, None, &bench.prior);
            let graded = desk.graded(sheet, &tests, &bench.prior);
            SheetGrade { next: next::next(&desk, &tests, &graded), ..graded }
        })
        .collect()
}

/// Grades one sheet and looks for no next test, which takes longest. `thickness` is the sheet's where no test says it.
#[must_use]
pub fn one_sheet(
    sheet: &str,
    tests: &[&ShopTest],
    library: &Library,
    thickness: Option<Length>,
    prior: &BenchPrior,
) -> SheetGrade {
    Desk::new(tests, library, thickness, prior).graded(sheet, tests, prior)
}

/// Brinell number of a piece of a metal, which may serve to compare hardness with; `None` where the table does not tell it.
#[must_use]
pub fn hardness_of(metal: &Metal) -> Option<f64> {
    known_hardness(metal).map(|hardness| hardness.ln.exp())
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
    /// Whether each test fits anything.
    fits: Vec<bool>,
    thickness: Option<Length>,
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
    /// The least thickness that a test says counts, whatever their order.
    fn new(tests: &[&ShopTest], library: &Library, thickness: Option<Length>, prior: &BenchPrior) -> Self {
        let thickness = tests.iter().filter_map(|t| t.thickness()).reduce(Length::min).or(thickness);
        let mut held: Vec<Held> = hypotheses(library, thickness, prior)
            .into_iter()
            .map(|of| {
                let nodes = nodes(&of);
                let prior = evidence::prior(&of);
                let says = tests.iter().map(|test| says(test, &of, &nodes, &prior)).collect();
                Held { prior, nodes, says, of }
            })
            .collect();
        let fits = |(i, test): (usize, &&ShopTest)| {
            held.iter()
                .any(|held| held.says.get(i).is_some_and(|says| fits(test, says, &held.of, &held.prior)))
        };
        let fits = tests.iter().enumerate().map(fits).collect();
        scale(&mut held);
        Self { held, fits, thickness }
    }

    /// What all tests say together, and each of them alone.
    fn graded(&self, sheet: &str, tests: &[&ShopTest], prior: &BenchPrior) -> SheetGrade {
        let all = self.posterior(&self.all());
        let alone: Vec<Posterior> = (0..self.fits.len()).map(|i| self.posterior(&[i])).collect();
        let misfits = self.misfits(&all);
        let mut contradictions = believe::contradictions(self, tests, &alone);
        if contradictions.is_empty() {
            contradictions.extend(believe::together(self, &alone, &all));
        }
        let (side, others) = if misfits.is_empty() && !contradictions.is_empty() {
            believe::sides(self, &alone, &contradictions)
        } else {
            // Where there is nothing to design with, what all of them say is told.
            ((self.all(), all), Vec::new())
        };
        let (believed, found) = &side;
        let each = || self.held.iter().zip(&found.chances);
        let mut grades: Vec<GradeChance> = each()
            .filter_map(|(held, chance)| {
                let name = held.of.name.clone()?;
                Some(GradeChance { name, probability: *chance, before: held.of.prior })
            })
            .collect();
        grades.sort_by(|a, b| b.probability.total_cmp(&a.probability));
        let says = |(test, alone): (&&ShopTest, &Posterior)| TestSays {
            kind: test.kind(),
            reads: evidence::property(test),
            thickness: test.thickness(),
            yield_strength: alone.likely(),
        };
        SheetGrade {
            sheet: sheet.to_owned(),
            tests: tests.iter().zip(&alone).map(says).collect(),
            thickness: self.thickness,
            yield_strength: found.likely(),
            strengths: found.strengths.iter().enumerate().map(|(i, chance)| (strength(i), *chance)).collect(),
            families: self.families(tests, &side, &others),
            grades,
            none_of_these: each().filter(|(held, _)| held.of.name.is_none()).map(|(_, c)| c).sum(),
            none_before: prior.none_of_these,
            name_decides: self.name_decides(tests, &side),
            left_out: self.all().into_iter().filter(|i| !believed.contains(i)).collect(),
            contradictions,
            misfits,
            next: None,
            asked: Vec::new(),
        }
    }

    /// Whether the names among believed tests raise the strength to design with.
    fn name_decides(&self, tests: &[&ShopTest], (believed, found): &Side) -> bool {
        let name = |i: &usize| {
            tests.get(*i).is_some_and(|test| matches!(test.kind(), TestKind::Told | TestKind::Stamp))
        };
        let rest: Vec<usize> = believed.iter().copied().filter(|i| !name(i)).collect();
        rest.len() < believed.len() && found.likely().p05 > BY_NAME * self.posterior(&rest).likely().p05
    }

    /// The numbers of all tests.
    fn all(&self) -> Vec<usize> {
        (0..self.fits.len()).collect()
    }

    /// What is known after these tests.
    fn posterior(&self, of: &[usize]) -> Posterior {
        Posterior::new(self.held.iter().map(|held| held.after(of, None)))
    }

    /// How likely each family is and how stiff and heavy its sheets are then, the likeliest first. Where tests contradict each other it is as
    /// likely as any side has it, for the strength that is designed with tells nothing of the stiffness. Nor do tests of strength tell families
    /// apart: how gently a metal yields looks like its stiffness. They only rule out what is not made so weak or so strong.
    fn families(&self, tests: &[&ShopTest], believed: &Side, others: &[Side]) -> Vec<FamilyChance> {
        let measures =
            |i: &usize| tests.get(*i).is_some_and(|test| TestKind::OF_STRENGTH.contains(&test.kind()));
        // What a side says, what it does without its tests of strength, and with each of them alone.
        let told = |side: &Side| -> (Posterior, Vec<Posterior>) {
            let (strength, rest): (Vec<usize>, Vec<usize>) = side.0.iter().copied().partition(measures);
            let with = |one: usize| self.posterior(&rest.iter().copied().chain([one]).collect::<Vec<_>>());
            (self.posterior(&rest), strength.into_iter().map(with).collect())
        };
        let of = |family: Family, found: &Posterior| {
            let own: Vec<(&Held, f64)> = self
                .held
                .iter()
                .zip(found.chances.iter().copied())
                .filter(|(held, _)| held.of.family == family)
                .collect();
            let probability: f64 = own.iter().map(|(_, chance)| chance).sum();
            let mean = |value: &dyn Fn(&Hypothesis) -> f64| {
                own.iter().map(|(held, chance)| chance / probability * value(&held.of)).sum::<f64>()
            };
            let kilogram = MassDensity::new::<kilogram_per_cubic_meter>(1.0);
            (probability > 0.0).then(|| FamilyChance {
                family,
                probability,
                modulus: Stress::new::<pascal>(mean(&|of| of.modulus.0.get::<pascal>())),
                density: kilogram * mean(&|of| of.density.ln).exp(),
            })
        };
        let sides: Vec<(&Posterior, (Posterior, Vec<Posterior>))> =
            std::iter::once(believed).chain(others).map(|side| (&side.1, told(side))).collect();
        let likeliest = |family: Family| {
            let each = sides.iter().flat_map(|(all, (rest, each))| {
                let made = |one: &Posterior| of(family, one).is_some_and(|f| f.probability > OUT_OF_QUESTION);
                [of(family, all), of(family, rest).filter(|_| each.iter().all(made))]
            });
            each.flatten().reduce(|best, one| if one.probability > best.probability { one } else { best })
        };
        let mut families: Vec<FamilyChance> = Family::ALL.into_iter().filter_map(likeliest).collect();
        families.sort_by(|a, b| b.probability.total_cmp(&a.probability));
        families
    }

    /// Tests that fit nothing a sheet may be; all of them where together they leave nothing.
    fn misfits(&self, found: &Posterior) -> Vec<usize> {
        let nothing = found.evidence < f64::MIN_POSITIVE;
        self.fits.iter().enumerate().filter(|(_, fits)| nothing || !**fits).map(|(i, _)| i).collect()
    }
}

/// Brings what each test says to 1 where it is likeliest of all, so that many tests together don't come to nothing.
fn scale(held: &mut [Held]) {
    let tests = held.iter().map(|held| held.says.len()).max().unwrap_or_default();
    for i in 0..tests {
        let most = held.iter().filter_map(|held| held.says.get(i)).map(Says::most).fold(0.0, f64::max);
        let most = most.max(f64::MIN_POSITIVE);
        held.iter_mut().filter_map(|held| held.says.get_mut(i)).for_each(|says| says.measure(most));
    }
}

impl Held {
    /// How likely each strength is together with these tests' readings, and with one more.
    fn after(&self, of: &[usize], more: Option<&Says>) -> Vec<f64> {
        let said = || of.iter().filter_map(|i| self.says.get(*i)).chain(more);
        let density = said().filter_map(|s| match s {
            Says::Density(ln, off) => Some((*ln, *off)),
            _ => None,
        });
        let conductivity = said().filter_map(|s| match s {
            Says::Conductivity(ln, off) => Some((*ln, *off)),
            _ => None,
        });
        let claims = said().filter_map(|s| if let Says::Claim(claim) = s { Some(claim) } else { None });
        let folds = said().filter_map(|s| match s {
            Says::Fold(over, cracked) => Some((over.as_slice(), *cracked)),
            _ => None,
        });
        let common = self.of.prior
            * claimed(claims)
            * folded(folds)
            * together(self.of.density, density)
            * together(self.of.conductivity, conductivity);
        let kinds: Vec<(TestKind, f64)> = TestKind::OF_STRENGTH
            .into_iter()
            .filter_map(|kind| {
                said().find_map(|s| match s {
                    Says::Strengths { kind: own, model, .. } if *own == kind => Some((kind, *model)),
                    _ => None,
                })
            })
            .collect();
        // Where no test tells combinations apart, one stands for all.
        let one = kinds.is_empty() && !said().any(|s| matches!(s, Says::Each(_)));
        let weight = |n: usize, node: &Node| {
            let each = said().map(|s| match s {
                Says::Each(chances) => chances.get(n).copied().unwrap_or_default(),
                _ => 1.0,
            });
            if one { 1.0 } else { node.weight * each.product::<f64>() }
        };
        let of_kind = |kind: TestKind| {
            said().filter_map(move |s| match s {
                Says::Strengths { kind: own, likely, whole, .. } if *own == kind => Some((likely, whole)),
                _ => None,
            })
        };
        // All readings of a kind for one combination, without what its mechanics are off.
        let readings = |kind: TestKind, n: usize| {
            let mut all = vec![1.0; self.prior.len()];
            for likely in of_kind(kind).filter_map(|(likely, _)| likely.get(n)) {
                all.iter_mut().zip(likely).for_each(|(all, likely)| *all *= likely);
            }
            all
        };
        // The same with that counted.
        let counted = |kind: TestKind, model: f64, n: usize| {
            let mut own = of_kind(kind);
            if let (Some((likely, whole)), None) = (own.next(), own.next()) {
                let whole = whole.get_or_init(|| likely.iter().map(|l| blurred(l, model)).collect());
                return whole.get(n).cloned().unwrap_or_default();
            }
            blurred(&readings(kind, n), model)
        };
        let mut found = vec![0.0; self.prior.len()];
        let add = |found: &mut Vec<f64>, weight: f64, more: &[f64]| {
            found.iter_mut().zip(more).for_each(|(all, more)| *all += weight * more);
        };
        if let [(kind, model)] = kinds.as_slice() {
            // What it is off by is the same for all combinations.
            for (n, node) in self.nodes.iter().enumerate() {
                add(&mut found, weight(n, node), &readings(*kind, n));
            }
            found = blurred(&found, *model);
        } else {
            for (n, node) in self.nodes.iter().enumerate() {
                let mut own = vec![1.0; self.prior.len()];
                for (kind, model) in &kinds {
                    let all = counted(*kind, *model, n);
                    own.iter_mut().zip(&all).for_each(|(own, chance)| *own *= chance);
                }
                add(&mut found, weight(n, node), &own);
                if one {
                    break;
                }
            }
        }
        found.iter_mut().zip(&self.prior).for_each(|(found, prior)| *found *= common * prior);
        found
    }
}

impl Posterior {
    /// Out of how likely each strength is under each hypothesis.
    fn new(all: impl Iterator<Item = Vec<f64>>) -> Self {
        let mut chances = Vec::new();
        let mut strengths = vec![0.0; STEPS];
        for own in all {
            chances.push(own.iter().sum());
            strengths.iter_mut().zip(&own).for_each(|(all, own)| *all += own);
        }
        let evidence: f64 = chances.iter().sum();
        let scale = evidence.max(f64::MIN_POSITIVE);
        chances.iter_mut().for_each(|c| *c /= scale);
        strengths.iter_mut().for_each(|s| *s /= scale);
        Self { evidence, chances, strengths }
    }

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

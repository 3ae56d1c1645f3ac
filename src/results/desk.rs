//! What shop tests say of a sheet.

use super::{BenchTest, CaseName};
use crate::material::Family;
use crate::model::TestKind;
use crate::units::{Length, MassDensity, Stress};

/// What is known of one sheet after its tests.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetGrade {
    /// Its name.
    pub sheet: String,
    /// Each test with what it says alone, in the order of the file.
    pub tests: Vec<TestSays>,
    /// How thick it is, where some test says it.
    pub thickness: Option<Length>,
    /// The yield strength.
    pub yield_strength: LikelyStress,
    /// The same whole: strengths, each a share above the one before it, with how likely each is.
    pub strengths: Vec<(Stress, f64)>,
    /// Every family that it may be of, the likeliest first.
    pub families: Vec<FamilyChance>,
    /// Every row of the table, the likeliest first.
    pub grades: Vec<GradeChance>,
    /// How likely it is none of the table's.
    pub none_of_these: f64,
    /// How likely that was taken to be before any test.
    pub none_before: f64,
    /// Tests, counted from 0, that fit no metal whatever: nothing can be designed with until they are repeated.
    pub misfits: Vec<usize>,
    /// Tests that speak against each other.
    pub contradictions: Vec<Contradiction>,
    /// Tests, counted from 0, that are left out of all that is told of the sheet until they are repeated: of those that contradict each other
    /// they are on the side that speaks for more strength.
    pub left_out: Vec<usize>,
    /// Whether a name that somebody said or wrote leaves more strength to design with than the other believed tests do without it.
    pub name_decides: bool,
    /// What to try next; `None` when nothing would narrow the strength by much.
    pub next: Option<NextTest>,
    /// What the gears of the file ask of it.
    pub asked: Vec<Asked>,
}

/// What a gear whose legs are of a sheet, or may be, asks of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// The gear's name.
    pub gear: String,
    /// Whether the file says that its legs are of the sheet, and not that nobody knows what they are of.
    pub told: bool,
    /// The hardest of its landings.
    pub hardest: AskedIn,
    /// The hardest that a published rule asks for, where that is another.
    pub published: Option<AskedIn>,
    /// The strip of it that decides; `None` where none can be loaded by hand.
    pub offcut: Option<BenchTest>,
}

/// What a landing asks of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct AskedIn {
    /// The landing.
    pub case: CaseName,
    /// The yield strength at which it leaves nothing bent.
    pub yield_strength: Stress,
    /// How likely the sheet has it.
    pub chance: f64,
}

/// A likely range of a stress.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LikelyStress {
    /// One in twenty is lower.
    pub p05: Stress,
    /// Half are.
    pub p50: Stress,
    /// One in twenty is higher.
    pub p95: Stress,
}

/// What one test says without the others.
#[derive(Debug, Clone, PartialEq)]
pub struct TestSays {
    /// Its kind.
    pub kind: TestKind,
    /// What its readings come to, where that is a property of the metal.
    pub reads: Option<Property>,
    /// How thick the piece was that it was made with, where it says it.
    pub thickness: Option<Length>,
    /// The yield strength it leaves likely.
    pub yield_strength: LikelyStress,
}

/// A property of a metal that a test measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Property {
    /// Density, by weighing.
    Density(MassDensity),
    /// Modulus of elasticity, by bending.
    Modulus(Stress),
    /// Hardness as a Brinell number.
    Brinell(f64),
    /// Conductivity, % IACS.
    Conductivity(f64),
}

/// How likely the sheet is one of a row.
#[derive(Debug, Clone, PartialEq)]
pub struct GradeChance {
    /// The row.
    pub name: String,
    /// After all tests.
    pub probability: f64,
    /// Before any.
    pub before: f64,
}

/// How likely the sheet is of a family of metals, the table's or not: as likely as all tests have it, or those of them that are none of
/// strength, and where they contradict each other as any side has it. All together are more than one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FamilyChance {
    /// The family.
    pub family: Family,
    /// After all tests.
    pub probability: f64,
    /// Modulus of elasticity that its sheets then have on average.
    pub modulus: Stress,
    /// Density, the same.
    pub density: MassDensity,
}

/// Families that are about as stiff as each other.
#[derive(Debug, Clone, PartialEq)]
pub struct AlikeFamilies {
    /// The families, the likeliest first.
    pub families: Vec<Family>,
    /// How likely the sheet is one of them.
    pub probability: f64,
    /// Modulus of elasticity of the likeliest.
    pub modulus: Stress,
    /// Density, the same.
    pub density: MassDensity,
}

impl AlikeFamilies {
    /// In words.
    #[must_use]
    pub fn words(&self) -> String {
        self.families.iter().map(|family| family.words()).collect::<Vec<_>>().join(" or ")
    }

    /// The likeliest of them.
    #[must_use]
    pub fn likeliest(&self) -> Family {
        self.families.first().copied().unwrap_or(Family::Other)
    }
}

/// Tests that are hardly of one sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Contradiction {
    /// Which tests, counted from 0: two, or more of which no two contradict each other and yet all do together.
    pub tests: Vec<usize>,
    /// How many times likelier their readings are of two sheets than of one.
    pub against: f64,
}

/// A test worth making.
#[derive(Debug, Clone, PartialEq)]
pub struct NextTest {
    /// Its kind.
    pub kind: TestKind,
    /// By which part the likely range of the yield strength would shrink.
    pub narrows: f64,
    /// About how long it takes, min.
    pub minutes: f64,
    /// What it is to tell apart; empty where it is for the strength that it is made.
    pub families: Vec<AlikeFamilies>,
}

/// Least chance of a family that is reckoned with. chosen: as that of a design value.
const LIKELY: f64 = 0.05;
/// Share by which families have to differ in stiffness to be reckoned with one by one. chosen: steel and stainless do not.
const AS_STIFF: f64 = 0.1;

impl SheetGrade {
    /// A test by its place, counted from 1, and its kind.
    #[must_use]
    pub fn in_words(&self, test: usize) -> String {
        format!("{} ({})", test + 1, self.tests.get(test).map_or("", |t| t.kind.word()))
    }

    /// Whether any of the tests that are left out, or of those that are believed, measures a strength.
    #[must_use]
    pub fn measures(&self, left_out: bool) -> bool {
        let of_strength =
            self.tests.iter().enumerate().filter(|(_, t)| TestKind::OF_STRENGTH.contains(&t.kind));
        of_strength.into_iter().any(|(i, _)| self.left_out.contains(&i) == left_out)
    }

    /// Some of the tests, each [in words](Self::in_words).
    #[must_use]
    pub fn all_in_words(&self, tests: &[usize]) -> Vec<String> {
        tests.iter().map(|test| self.in_words(*test)).collect()
    }

    /// What the tests leave likely as far as stiffness goes, the likeliest first: families that are alike in it count as one.
    #[must_use]
    pub fn likely_families(&self) -> Vec<AlikeFamilies> {
        let mut alike: Vec<AlikeFamilies> = Vec::new();
        for family in &self.families {
            let as_stiff =
                |known: &&mut AlikeFamilies| f64::from(family.modulus / known.modulus).ln().abs() <= AS_STIFF;
            match alike.iter_mut().find(as_stiff) {
                Some(known) => {
                    known.probability += family.probability;
                    // A name that is hardly likely would only puzzle.
                    if family.probability >= LIKELY {
                        known.families.push(family.family);
                    }
                }
                None => alike.push(AlikeFamilies {
                    families: vec![family.family],
                    probability: family.probability,
                    modulus: family.modulus,
                    density: family.density,
                }),
            }
        }
        alike.sort_by(|a, b| b.probability.total_cmp(&a.probability));
        let mut place = 0;
        alike.retain(|one| {
            place += 1;
            place == 1 || one.probability >= LIKELY
        });
        alike
    }

    /// How likely it is that the sheet yields no lower than at a strength.
    #[must_use]
    pub fn chance_above(&self, strength: Stress) -> f64 {
        // Every strength stands for half a step on both sides of it.
        let step = match self.strengths.as_slice() {
            [(first, _), (second, _), ..] => f64::from(*second / *first).ln(),
            _ => return 0.0,
        };
        let part = |(own, chance): &(Stress, f64)| {
            let above = f64::from(*own / strength).ln() / step + 0.5;
            chance * above.clamp(0.0, 1.0)
        };
        // All shares together are one but for rounding.
        self.strengths.iter().map(part).sum::<f64>().min(1.0)
    }

    /// The yield strength to design with: the lower end of what is likely; `None` where a test fits no metal.
    #[must_use]
    pub const fn design_yield(&self) -> Option<Stress> {
        if self.misfits.is_empty() { Some(self.yield_strength.p05) } else { None }
    }
}

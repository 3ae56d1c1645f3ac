//! The merchant's card: for one gear and every metal on sale the thinnest plate that holds, without wires and with them.
//!
//! Thinnest is lightest here, since all else of the gear stays. The bends' inside radius grows where a thicker or harder plate needs
//! it. An unknown metal may be any of those on sale: its plate is the thinnest that holds whichever it is.

use super::judge::{Depth, judge};
use crate::analysis::{PlateElasticity, Screen, drop_without_set, families, unknown_density};
use crate::crew::each;
use crate::material::{Library, Metal, Stock, StockForm, System};
use crate::model::{Arms, Brace, Gear, Pattern, PlateMetal, Project, Severity, Taper, WireFit};
use crate::results::{CardEntry, CardRow};
use crate::units::{Force, Length, Mass, Stress};
use std::cmp::Ordering;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering as AtomicOrdering};

/// Wires that a builder without any would try first: where they hold the leg and where the base, as a share of its width, their
/// metal and their ends. Common practice, no source.
const USUAL_LEG_AT: f64 = 0.9;
const USUAL_BASE_AT: f64 = 0.38;
const USUAL_WIRE: &str = "302-spring";
const USUAL_END: &str = "wrapped";

/// A size with the words it is sold under.
type Size = (Length, String);

/// What the card is made of.
struct Shop<'a> {
    project: &'a Project,
    library: &'a Library,
    gear: usize,
    thicknesses: Vec<Size>,
    /// The gear's wires, and the diameters to try for them; none where it takes no wires.
    wires: Option<(Vec<Brace>, Vec<Size>)>,
    stresses: Mutex<Vec<(Stressed, Option<Stress>)>>,
}

/// What the stress behind a bound depends on.
#[derive(PartialEq)]
struct Stressed {
    metal: Option<String>,
    elastic: PlateElasticity,
    bend_radius: Option<Length>,
    size: (usize, Option<usize>),
}

/// A plate with the sizes' numbers, so that they can be ordered.
#[derive(Clone)]
struct Found {
    thickness: usize,
    wire: Option<usize>,
    entry: CardEntry,
}

/// Goes through what is on sale for one gear of a project; `braces` are the wires that it has or may have.
pub(super) fn card(
    project: &Project,
    library: &Library,
    gear: usize,
    braces: &[Brace],
    sold: &[System],
    progress: &dyn Fn(usize, usize),
) -> Vec<CardRow> {
    let Some(own) = project.gears.get(gear) else { return Vec::new() };
    let braces = if braces.is_empty() { usual_wires(own, library) } else { braces.to_vec() };
    let sizes = |form| sizes(&library.stock, form, sold);
    let wires = (!braces.is_empty()).then(|| (braces, sizes(StockForm::Wire)));
    let shop = Shop {
        project,
        library,
        gear,
        thicknesses: sizes(StockForm::Sheet),
        wires,
        stresses: Mutex::new(Vec::new()),
    };
    let metals = on_sale(own, library);
    let found = each(metals.len(), |i| metals.get(i).map(|metal| shop.thinnest(metal)), &|done| {
        progress(done, metals.len())
    });
    let found: Vec<(Option<Found>, Option<Found>)> = found.into_iter().flatten().collect();
    let unknown = shop.whichever(&metals, &found);
    let named = metals
        .iter()
        .zip(&found)
        .map(|(metal, (plain, braced))| row(Some(metal.name.clone()), plain, braced));
    named.chain([row(None, &unknown.0, &unknown.1)]).collect()
}

fn row(metal: Option<String>, plain: &Option<Found>, braced: &Option<Found>) -> CardRow {
    let entry = |f: &Option<Found>| f.as_ref().map(|f| f.entry.clone());
    CardRow { metal, plain: entry(plain), braced: entry(braced) }
}

/// The sheet metals that dealers keep, and the gear's own where it is another.
fn on_sale(gear: &Gear, library: &Library) -> Vec<Metal> {
    let names = library.stock.iter().filter(|s| s.form == StockForm::SheetGrade).flat_map(|s| &s.labels);
    let mut metals: Vec<Metal> = names.filter_map(|name| library.metal(name).ok().cloned()).collect();
    if let PlateMetal::Known(own) = &gear.plate.metal
        && !metals.iter().any(|m| m.name == own.name)
    {
        metals.push((**own).clone());
    }
    metals
}

fn sizes(stock: &[Stock], form: StockForm, sold: &[System]) -> Vec<Size> {
    let rows = stock.iter().filter(|s| s.form == form && sold.contains(&s.system));
    let mut found: Vec<Size> =
        rows.flat_map(|s| s.sizes.iter().copied().zip(s.labels.iter().cloned())).collect();
    found.sort_by(|(a, _), (b, _)| a.partial_cmp(b).unwrap_or(Ordering::Equal));
    found
}

/// Crossed wires for a pair of legs that has none.
fn usual_wires(gear: &Gear, library: &Library) -> Vec<Brace> {
    let (Arms::Pair { base_width }, Ok(wire), Ok(end)) =
        (gear.arms, library.wire(USUAL_WIRE), library.wire_end(USUAL_END))
    else {
        return Vec::new();
    };
    let diameter = Length::default();
    let Some((end_holds, thread)) = end.efficiency(diameter, &library.threads) else { return Vec::new() };
    vec![Brace {
        pattern: Pattern::Cross,
        wire: wire.clone(),
        diameter,
        leg_at: USUAL_LEG_AT,
        base_at: Some(USUAL_BASE_AT * base_width),
        base_in: None,
        end: end.clone(),
        end_holds,
        thread: thread.cloned(),
        fit: WireFit::Snug,
    }]
}

impl Shop<'_> {
    /// The thinnest plate of a metal that holds without wires, and the thinner one that holds with them.
    fn thinnest(&self, metal: &Metal) -> (Option<Found>, Option<Found>) {
        let all = 0..self.thicknesses.len();
        let plain = all.clone().find_map(|t| self.held(metal, t, None));
        let thinner = all.take(plain.as_ref().map_or(usize::MAX, |p| p.thickness));
        let diameters = self.wires.as_ref().map_or(0, |(_, d)| d.len());
        let braced = thinner
            .flat_map(|t| (0..diameters).map(move |d| (t, d)))
            .find_map(|(t, d)| self.held(metal, t, Some(d)));
        (plain, braced)
    }

    /// The gear of a metal, a thickness and a wire, where they can be had.
    fn gear(&self, metal: &Metal, thickness: usize, wire: Option<usize>) -> Option<(Gear, Option<Length>)> {
        let own = self.project.gears.get(self.gear)?;
        let (size, _) = self.thicknesses.get(thickness)?;
        let band = metal.band(*size)?;
        let mut gear = own.clone();
        let slenderness = own.plate.thickness.tip / own.plate.thickness.root;
        gear.plate.metal = PlateMetal::Known(Box::new(metal.clone()));
        gear.plate.thickness = Taper { root: *size, tip: slenderness * *size };
        let needed = band.bend_radius_90.as_ref().map(|least| least.value * *size);
        let wider = gear.plate.bend_radius.zip(needed).filter(|(has, needs)| needs > has).map(|(_, r)| r);
        gear.plate.bend_radius = wider.or(gear.plate.bend_radius);
        gear.braces = Vec::new();
        if let Some(wire) = wire {
            let (braces, diameters) = self.wires.as_ref()?;
            let (diameter, _) = diameters.get(wire)?;
            gear.braces = braces.iter().map(|b| self.brace(b, *diameter)).collect::<Option<_>>()?;
        }
        Some((gear, wider))
    }

    /// A brace of another diameter; `None` where it is not made, its end can't be, or its pretension pulls it off.
    fn brace(&self, brace: &Brace, diameter: Length) -> Option<Brace> {
        let load = brace.wire.breaking_load(diameter).ok()?;
        let (end_holds, thread) = brace.end.efficiency(diameter, &self.library.threads)?;
        let holds: Force = end_holds.value * load.value;
        if matches!(brace.fit, WireFit::Pretension(pull) if pull >= holds) {
            return None;
        }
        Some(Brace { diameter, end_holds, thread: thread.cloned(), ..brace.clone() })
    }

    /// The stress of [`Screen::least_stress`], found once for all metals that are alike but for their strength.
    fn least_stress(&self, project: &Project, metal: &Metal, size: (usize, Option<usize>)) -> Option<Stress> {
        let plate = &project.gears.get(self.gear)?.plate;
        // The drop of a gear that yields makes another load factor, and a mount's flat ends where the bends begin.
        let stated = matches!(project.landing.severity, Severity::LoadFactor(_));
        let mounted = project.gears.get(self.gear)?.mount.is_some();
        let of = Stressed {
            metal: (!stated).then(|| metal.name.clone()),
            elastic: PlateElasticity::of(&plate.metal),
            bend_radius: plate.bend_radius.filter(|_| mounted),
            size,
        };
        let alike = |s: &(Stressed, Option<Stress>)| s.0 == of;
        let known = self.stresses.lock().ok()?.iter().find(|s| alike(s)).map(|(_, stress)| *stress);
        if let Some(stress) = known {
            return stress;
        }
        let screen = Screen::verdict(project, self.gear, project.wish.margin).ok();
        let stress = screen.and_then(|mut screen| screen.least_stress().ok().flatten());
        self.stresses.lock().ok()?.push((of, stress));
        stress
    }

    /// A plate with what it comes to, when it holds.
    fn held(&self, metal: &Metal, thickness: usize, wire: Option<usize>) -> Option<Found> {
        let (gear, bend_radius) = self.gear(metal, thickness, wire)?;
        let mut project = self.project.clone();
        *project.gears.get_mut(self.gear)? = gear;
        let wanted = project.wish.margin;
        let strength = project.gears.get(self.gear)?.plate.yield_strength()?;
        if let Some(stress) = self.least_stress(&project, metal, (thickness, wire))
            && strength.value < (1.0 + wanted) * stress
        {
            return None;
        }
        let holds = |one: &Project| {
            let judged = judge(one, self.gear, wanted, Depth::Verdict).ok().flatten();
            judged.is_some_and(|j| j.holds)
        };
        if !families(&project).iter().all(holds) {
            return None;
        }
        let gear = project.gears.get(self.gear)?;
        let (_, label) = self.thicknesses.get(thickness)?;
        let diameters = self.wires.as_ref().map(|(_, d)| d);
        Some(Found {
            thickness,
            wire,
            entry: CardEntry {
                thickness: label.clone(),
                wire: wire.and_then(|w| diameters?.get(w)).map(|(_, label)| label.clone()),
                mass: gear.mass(unknown_density()).total(),
                drop_without_set: drop_without_set(&project, gear).ok().flatten(),
                bend_radius,
            },
        })
    }

    /// The thinnest plates that hold whichever of the metals they are of.
    fn whichever(
        &self,
        metals: &[Metal],
        found: &[(Option<Found>, Option<Found>)],
    ) -> (Option<Found>, Option<Found>) {
        let plain_from = found.iter().try_fold(0, |t, (plain, _)| plain.as_ref().map(|p| t.max(p.thickness)));
        let plain = plain_from
            .and_then(|from| (from..self.thicknesses.len()).find_map(|t| self.all(metals, t, None)));
        let either =
            |(plain, braced): &(Option<Found>, Option<Found>)| braced.clone().or_else(|| plain.clone());
        let braced_from = found.iter().try_fold((0, 0), |(t, w), found| {
            either(found).map(|f| (t.max(f.thickness), w.max(f.wire.unwrap_or(0))))
        });
        let diameters = self.wires.as_ref().map_or(0, |(_, d)| d.len());
        let end = plain.as_ref().map_or(self.thicknesses.len(), |p| p.thickness);
        let braced = braced_from.and_then(|(from, wire)| {
            let tries = (from..end).flat_map(|t| (wire..diameters).map(move |w| (t, w)));
            tries.into_iter().find_map(|(t, w)| self.all(metals, t, Some(w)))
        });
        (plain, braced)
    }

    /// A plate that holds of every metal that is rolled so thick: the heaviest of them, and the lowest of their drops.
    fn all(&self, metals: &[Metal], thickness: usize, wire: Option<usize>) -> Option<Found> {
        let (size, _) = self.thicknesses.get(thickness)?;
        let rolled: Vec<&Metal> = metals.iter().filter(|m| m.band(*size).is_some()).collect();
        // Once one does not hold, the others needn't be looked at.
        let fails = AtomicBool::new(false);
        let held = each(
            rolled.len(),
            |i| {
                let metal = rolled.get(i).filter(|_| !fails.load(AtomicOrdering::Relaxed))?;
                let found = self.held(metal, thickness, wire);
                fails.fetch_or(found.is_none(), AtomicOrdering::Relaxed);
                found
            },
            &|_| (),
        );
        let mut worst: Option<Found> = None;
        for found in held {
            let found = found?;
            worst = Some(match worst {
                None => found,
                Some(w) => Found {
                    entry: CardEntry {
                        mass: Mass::max(w.entry.mass, found.entry.mass),
                        drop_without_set: lower(w.entry.drop_without_set, found.entry.drop_without_set),
                        bend_radius: wider(w.entry.bend_radius, found.entry.bend_radius),
                        ..w.entry
                    },
                    ..w
                },
            });
        }
        worst
    }
}

fn lower(a: Option<Length>, b: Option<Length>) -> Option<Length> {
    a.zip(b).map(|(a, b)| a.min(b))
}

fn wider(a: Option<Length>, b: Option<Length>) -> Option<Length> {
    [a, b].into_iter().flatten().reduce(Length::max)
}

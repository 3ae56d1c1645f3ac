//! Laws that every gear on its mount has to obey, over random ones.

#![allow(clippy::expect_used, clippy::indexing_slicing, reason = "a test that can't go on should stop")]

mod common;
#[path = "common/mounts.rs"]
mod mounts;

use common::{add, assert_within, brace, cross, deg, dot, largest, load, mm, newtons, pair, si, taper};
use gearleg::analysis::{GearAnalysis, PlateElasticity};
use gearleg::model::{
    AnchorIn, Arms, AxleJoint, CaseWheelLoad, Gear, Grain, Pattern, Side, SpanDirection, SpanEdges, WireFit,
    WirePlace, WoodSpan,
};
use gearleg::results::{GearState, MountState};
use mounts::{bolt_class, mount, plywood, preload};
use proptest::prelude::*;
use uom::si::mass_density::kilogram_per_cubic_meter;

/// Elements along a leg where the number does not matter; it saves time.
const FEW: usize = 3;

fn solve(gear: &Gear, loads: &[CaseWheelLoad]) -> GearState {
    GearAnalysis::with_elements(gear, PlateElasticity::of(&gear.plate.metal), FEW)
        .and_then(|mut a| a.solve(loads, 1.0))
        .expect("every sound gear has a solution")
}

fn mounted(state: &GearState) -> &MountState {
    state.mount.as_ref().expect("a mounted gear")
}

// Random gears ------------------------------------------------------------------------------------------------------

fn arms() -> impl Strategy<Value = Arms> {
    prop_oneof![
        2 => (80.0..160.0).prop_map(|w| Arms::Pair { base_width: mm(w) }),
        1 => Just(Arms::Single),
        1 => (50.0..90.0)
            .prop_map(|w| Arms::Twin { base_width: mm(w), axle_joint: AxleJoint::Clamped }),
    ]
}

fn span() -> impl Strategy<Value = Option<WoodSpan>> {
    let direction = prop_oneof![Just(SpanDirection::ForeAndAft), Just(SpanDirection::Athwart)];
    let edges = prop_oneof![Just(SpanEdges::Supported), Just(SpanEdges::Clamped)];
    let grain = prop_oneof![Just(None), Just(Some(Grain::Along)), Just(Some(Grain::Across))];
    prop_oneof![
        1 => Just(None),
        2 => (60.0..220.0, direction, edges, grain).prop_map(|(length, direction, edges, grain)| {
            Some(WoodSpan { length: mm(length), direction, edges, grain, breadth: None })
        }),
    ]
}

/// Two to five bolts, as shares of the flat, no two of them in one place.
fn bolts() -> impl Strategy<Value = Vec<[f64; 2]>> {
    prop::collection::vec((-0.8..0.8, -0.9..0.9), 2..=5).prop_map(|places| {
        let n = places.len() as f64;
        let apart = |(i, (x, y)): (usize, (f64, f64))| [x, (y + 2.0 * i as f64 - (n - 1.0)) / n];
        places.into_iter().enumerate().map(apart).collect()
    })
}

fn gears() -> impl Strategy<Value = Gear> {
    let plate = (2.0..6.0, 30.0..70.0, (0.5..=1.0, 0.5..=1.0), 120.0..300.0, 0.0..50.0, -15.0..15.0);
    let joint = (
        bolts(),
        span(),
        prop::option::of(0.0..3000.0),
        prop::option::of(0.05..0.8),
        (3.0..12.0, prop::option::of(1.0..6.0)),
    );
    let wires = prop::option::of((
        0.3..0.99,
        0.2..1.3,
        prop_oneof![Just(WireFit::Snug), (1.0..150.0).prop_map(|n| WireFit::Pretension(newtons(n)))],
    ));
    (arms(), plate, joint, wires).prop_map(
        |(
            arms,
            (t, b, (thin, narrow), length, lean, rake),
            (bolts, span, tight, play, (ply, doubler)),
            wires,
        )| {
            let mut gear = pair();
            gear.arms = arms;
            gear.plate.thickness = taper(t, t * thin);
            gear.plate.width = taper(b, b * narrow);
            gear.plate.leg_length = mm(length);
            gear.plate.rake = deg(rake);
            gear.plate.leg_angle = deg(if matches!(arms, Arms::Pair { .. }) { lean } else { 0.0 });
            if matches!(arms, Arms::Twin { .. }) {
                gear.wheel.overhang = mm(0.0);
            }
            // A foot reaches to starboard from the arm; a base to both sides.
            let (middle, half) = match arms {
                Arms::Pair { base_width } | Arms::Twin { base_width, .. } => (0.0, 500.0 * base_width.value),
                Arms::Single => (30.0, 30.0),
            };
            let places: Vec<[f64; 2]> = bolts.iter().map(|[x, y]| [0.5 * b * x, middle + half * y]).collect();
            let mut mount = mount(&places);
            mount.foot = (arms == Arms::Single).then(|| mm(60.0));
            mount.span = span;
            mount.preload = tight.and_then(preload);
            mount.hole = play.map(|p| mm(5.0 + p));
            mount.wood_thickness = mm(ply);
            mount.doubler = doubler.map(mm);
            gear.mount = Some(mount);
            if let (Arms::Pair { .. }, Some((leg_at, reach, fit))) = (arms, wires) {
                gear.braces.push(brace(Pattern::Cross, leg_at, half * reach, fit));
            }
            gear
        },
    )
}

fn on_wheels(gear: &Gear, pushes: &[[f64; 3]; 2]) -> Vec<CaseWheelLoad> {
    gear.wheels().into_iter().zip(pushes).map(|(w, force)| load(w.side, *force)).collect()
}

fn push() -> impl Strategy<Value = [f64; 3]> {
    (-150.0..150.0, -150.0..150.0, -200.0..400.0).prop_map(|(x, y, z)| [x, y, z])
}

// The laws ----------------------------------------------------------------------------------------------------------

/// Forces on the gear, with their places: the ground's, the bolts', the bed's, and those of wires whose far ends are in the wood.
fn forces(gear: &Gear, loads: &[CaseWheelLoad], state: &GearState) -> Vec<([f64; 3], [f64; 3])> {
    let mut all = Vec::new();
    for l in loads {
        let wheel = gear.wheels().into_iter().find(|w| w.side == l.side).expect("the wheel is there");
        all.push((si(wheel.contact), si(l.force())));
    }
    // Plate and wood touch at the plate's upper face.
    let plane = 0.5 * gear.plate.thickness.root.value;
    let mount = mounted(state);
    for bolt in &mount.bolts {
        let [x, y] = bolt.at.map(|c| c.value);
        let [aft, starboard] = bolt.shear.map(|f| -f.value);
        all.push(([x, y, plane], [aft, starboard, bolt.pull().value]));
    }
    let [x, y] = mount.bed.centre.map(|c| c.value);
    all.push(([x, y, plane], [0.0, 0.0, -mount.bed.push.value]));
    let runs = (0..gear.braces.len()).flat_map(|i| gear.brace_wires(i).into_iter().map(move |w| (i, w)));
    for (wire, (index, (_, from, to))) in state.wires.iter().zip(runs) {
        let (WirePlace::Leg(side), WirePlace::Base(anchor)) = (from, to) else { continue };
        if gear.anchor_in(&gear.braces[index]) == Some(AnchorIn::Wood) {
            let leg = gear.leg(side);
            let at = add(si(leg.root), gear.braces[index].leg_at, add(si(leg.tip), -1.0, si(leg.root)));
            let line = add(si(anchor), -1.0, at);
            let size = dot(line, line).sqrt();
            all.push((at, line.map(|c| c / size * wire.tension.value)));
        }
    }
    all
}

/// The gear seen in a mirror that stands fore and aft.
fn mirrored(gear: &Gear) -> Gear {
    let mut other = gear.clone();
    let mount = other.mount.as_mut().expect("a mounted gear");
    for (_, y) in &mut mount.bolts {
        *y = -*y;
    }
    other
}

const fn other(side: Side) -> Side {
    match side {
        Side::Left => Side::Right,
        Side::Right => Side::Left,
        Side::Centre => Side::Centre,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn bolts_and_bed_balance_the_loads(gear in gears(), pushes in [push(), push()]) {
        let loads = on_wheels(&gear, &pushes);
        let state = solve(&gear, &loads);
        let all = forces(&gear, &loads, &state);
        let scale = all.iter().map(|(_, f)| largest(f)).fold(0.0, f64::max);
        let reach = gear.plate.leg_length.value + gear.wheel.diameter.value;
        let force = all.iter().fold([0.0; 3], |sum, (_, f)| add(sum, 1.0, *f));
        let moment = all.iter().fold([0.0; 3], |sum, (at, f)| add(sum, 1.0, cross(*at, *f)));
        for i in 0..3 {
            assert_within(force[i], 0.0, 1e-6 * scale, "force");
            assert_within(moment[i], 0.0, 1e-6 * scale * reach, "moment about the base's centre");
        }
    }

    #[test]
    fn a_mirrored_gear_has_mirrored_bolts(gear in gears(), pushes in [push(), push()]) {
        // A single arm's foot lies to one side.
        prop_assume!(gear.arms != Arms::Single);
        let loads = on_wheels(&gear, &pushes);
        let turned: Vec<CaseWheelLoad> = loads
            .iter()
            .map(|l| CaseWheelLoad { side: other(l.side), starboard: -l.starboard, ..*l })
            .collect();
        let (here, there) = (solve(&gear, &loads), solve(&mirrored(&gear), &turned));
        let pulls: Vec<f64> = mounted(&here).bolts.iter().map(|b| b.tension.value).collect();
        let scale = largest(&pulls).max(loads.iter().map(|l| largest(&si(l.force()))).fold(0.0, f64::max));
        for (a, b) in mounted(&here).bolts.iter().zip(&mounted(&there).bolts) {
            assert_within(b.tension.value, a.tension.value, 1e-6 * scale, "tension");
            assert_within(b.pressed.value, a.pressed.value, 1e-6 * scale, "pressed");
            assert_within(b.shear[0].value, a.shear[0].value, 1e-6 * scale, "shear aft");
            assert_within(b.shear[1].value, -a.shear[1].value, 1e-6 * scale, "shear to starboard");
        }
        let (a, b) = (mounted(&here).bed, mounted(&there).bed);
        assert_within(b.push.value, a.push.value, 1e-6 * scale, "push of the bed");
        for w in &here.wheels {
            let twin = there.wheels.iter().find(|o| o.side == other(w.side)).expect("the other wheel");
            let (a, b) = (si(w.displacement), si(twin.displacement));
            let most = 1e-6 * largest(&a);
            for i in 0..3 {
                assert_within(b[i], if i == 1 { -a[1] } else { a[i] }, most, "wheel");
            }
        }
    }

    #[test]
    fn preload_moves_no_wheel_while_the_joints_hold(gear in gears(), pushes in [push(), push()], more in 1.1..3.0) {
        let loads = on_wheels(&gear, &pushes);
        let with = |force: f64| {
            let mut gear = gear.clone();
            if let Some(mount) = &mut gear.mount {
                mount.preload = preload(force);
            }
            solve(&gear, &loads)
        };
        let enough = 50_000.0;
        let (a, b) = (with(enough), with(more * enough));
        assert!(mounted(&a).bolts.iter().all(|b| b.pressed.value > 0.0), "so much preload holds them together");
        let (x, y): (Vec<[f64; 3]>, Vec<[f64; 3]>) =
            (a.wheels.iter().map(|w| si(w.displacement)).collect(), b.wheels.iter().map(|w| si(w.displacement)).collect());
        let scale = largest(x.as_flattened());
        for (p, q) in x.as_flattened().iter().zip(y.as_flattened()) {
            assert_within(*q, *p, 1e-7 * scale, "wheel");
        }
        for (p, q) in mounted(&a).bolts.iter().zip(&mounted(&b).bolts) {
            assert_within(q.pull().value, p.pull().value, 1e-6 * enough, "what pulls at the joint");
            let gained = (p.tension - p.preload).value;
            let share = p.share * p.pull().value;
            assert_within(gained, share, 1e-6 * enough, "the bolt's share of it");
        }
    }
}

#[test]
fn a_mount_that_is_stiff_all_over_is_a_clamp() {
    let mut gear = pair();
    // Legs that thin from a thick base: what bends is far from the mount.
    gear.plate.thickness = taper(14.0, 3.0);
    gear.braces.push(brace(Pattern::Cross, 0.9, 50.0, WireFit::Snug));
    gear.braces[0].base_in = Some(AnchorIn::Wood);
    let loads = [load(Side::Left, [60.0, 20.0, 250.0]), load(Side::Right, [0.0, -30.0, 200.0])];
    let clamped = solve(&gear, &loads);
    let mut apart = Vec::new();
    for stiffer in [1.0, 100.0, 10_000.0] {
        let mut on_mount = gear.clone();
        let mut stiff = mount(&[
            [-28.0, -58.0],
            [28.0, -58.0],
            [-28.0, -30.0],
            [28.0, -30.0],
            [-28.0, 30.0],
            [28.0, 30.0],
            [-28.0, 58.0],
            [28.0, 58.0],
        ]);
        stiff.bolt_class = bolt_class(210_000.0 * stiffer);
        stiff.wood = plywood(600.0 * stiffer, [12_000.0, 4_800.0], 620.0, 680.0);
        // A bolt's hold in the wood goes with the density to the power 1.5.
        stiff.wood.density.value =
            uom::si::f64::MassDensity::new::<kilogram_per_cubic_meter>(680.0 * stiffer.powf(2.0 / 3.0));
        on_mount.mount = Some(stiff);
        let state = solve(&on_mount, &loads);
        let moments = |s: &GearState| s.legs.iter().flat_map(|l| si(l.root_moment)).collect::<Vec<_>>();
        let ways = |s: &GearState| s.wheels.iter().flat_map(|w| si(w.displacement)).collect::<Vec<_>>();
        let worst = |a: Vec<f64>, b: Vec<f64>| {
            a.iter().zip(&b).map(|(x, y)| (x - y).abs()).fold(0.0, f64::max) / largest(&b)
        };
        apart.push([worst(moments(&state), moments(&clamped)), worst(ways(&state), ways(&clamped))]);
    }
    assert!(apart.is_sorted_by(|a, b| a[1] > b[1]), "stiffer is nearer: {apart:?}");
    assert!(apart[2][0] < 0.01 && apart[2][1] < 0.02, "as good as clamped: {apart:?}");
    // Or the comparison would show nothing.
    assert!(apart[0][1] > 0.015, "a mount of plywood gives: {apart:?}");
}

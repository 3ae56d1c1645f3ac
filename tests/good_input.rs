//! Good project files: each is accepted, its readings are echoed, and damaging it never brings the reader down.
#![allow(clippy::expect_used, clippy::panic, reason = "a test stops at what it can't use")]

use gearleg::diagnostic::{Diagnostic, SourceText};
use gearleg::input::project::{load_project, read_project};
use gearleg::input::{STARTER, tables};
use gearleg::material::{Basis, Library};
use gearleg::model::{
    AnchorIn, Arms, AxleJoint, Brace, CaseId, Grain, Layout, LoadPoint, PartKind, Pattern, PlateMetal,
    Position, Preload, Project, Severity, Side, SpanDirection, SpanEdges, WireFit,
};
use gearleg::report::render;
use gearleg::units::{Angle, Length, Unit};
use proptest::prelude::*;
use std::fs;
use std::path::PathBuf;
use std::sync::{Arc, LazyLock};
use uom::si::angle::degree;
use uom::si::area::square_millimeter;
use uom::si::force::newton;
use uom::si::length::millimeter;
use uom::si::mass::kilogram;
use uom::si::pressure::megapascal;

static LIBRARY: LazyLock<Library> =
    LazyLock::new(|| tables::builtin().expect("the built-in tables are good"));

fn files() -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir("tests/input/valid")
        .expect("the folder is there")
        .map(|entry| entry.expect("it can be listed").path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .collect();
    files.sort();
    files
}

fn good(name: &str) -> (Project, Vec<Diagnostic>) {
    let path = PathBuf::from(format!("tests/input/valid/{name}.toml"));
    load_project(&path, &LIBRARY).unwrap_or_else(|found| panic!("{name}:\n{}", render(&found.0, false)))
}

fn readings(project: &Project) -> String {
    let width = project.readings.iter().map(|r| r.key.len()).max().unwrap_or(0);
    project.readings.iter().map(|r| format!("{:width$}  {} -> {}\n", r.key, r.written, r.read)).collect()
}

#[test]
fn every_good_file_is_accepted_without_a_warning() {
    let files = files();
    assert!(files.len() >= 20, "only {} good files", files.len());
    for path in files {
        let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let (project, warnings) = good(&name);
        assert_eq!(warnings.is_empty(), !name.ends_with("doubtful"), "{name}:\n{}", render(&warnings, false));
        assert!(!project.gears.is_empty(), "{name}");
        assert_eq!(project.readings.len(), project.written_units.len(), "{name}");
    }
}

#[test]
fn doubts_are_said() {
    insta::assert_snapshot!(render(&good("doubtful").1, false));
}

#[test]
fn doubts_about_mounts_are_said() {
    insta::assert_snapshot!(render(&good("mount-doubtful").1, false));
}

#[test]
fn readings_of_inches_pounds_and_gauges() {
    insta::assert_snapshot!(readings(&good("inches").0));
}

#[test]
fn readings_of_an_own_metal() {
    insta::assert_snapshot!(readings(&good("own-metal").0));
}

#[test]
fn readings_of_a_mount() {
    insta::assert_snapshot!(readings(&good("mount").0));
}

#[test]
fn readings_of_user_cases() {
    insta::assert_snapshot!(readings(&good("user-cases").0));
}

#[test]
fn readings_of_drop_tests() {
    insta::assert_snapshot!(readings(&good("drop-tests").0));
}

#[test]
fn drop_tests_are_kept_in_order_with_their_defaults() {
    let mm = |length: Option<Length>| length.map(|l| (1e3 * l.get::<millimeter>()).round() / 1e3);
    let project = good("drop-tests").0;
    assert_eq!(mm(project.gears[0].limits.clearance), Some(60.325));
    assert_eq!(project.gears[1].limits.clearance, None);
    let all: Vec<_> = project
        .drop_tests
        .iter()
        .map(|t| {
            let lengths = [Some(t.height), t.spread, t.set, Some(t.error)].map(mm);
            (t.gear, lengths, t.mass.map(|m| m.get::<kilogram>()), t.wing_lift)
        })
        .collect();
    assert_eq!(
        all,
        [
            (0, [Some(200.0), Some(31.0), Some(4.0), Some(0.5)], Some(10.9), 0.0),
            (1, [Some(101.6), None, Some(0.0), Some(1.0)], None, 0.5),
            (0, [Some(50.0), Some(7.62), Some(7.62), Some(1.0)], None, 0.0),
            (0, [Some(25.0), Some(4.0), None, Some(1.0)], None, 0.0),
        ]
    );
    assert!(good("pair-plain").0.drop_tests.is_empty());
}

#[test]
fn the_smallest_file_gets_the_defaults() {
    let project = good("pair-plain").0;
    assert_eq!(project.aircraft.layout, Layout::Tricycle);
    assert_eq!(project.aircraft.wing_area, None);
    let landing = &project.landing;
    assert_eq!(landing.severity, Severity::LoadFactor(3.5));
    assert_eq!(landing.wing_lift, 2.0 / 3.0);
    assert_eq!(landing.friction, 0.8);
    assert_eq!(landing.ultimate_factor, 1.5);
    assert_eq!(landing.obstacle_drag, 2.0);
    assert_eq!(landing.cases, None);
    let gear = project.gears.first().expect("a gear");
    assert_eq!(gear.plate.width.tip, gear.plate.width.root);
    assert_eq!(gear.plate.thickness.tip, gear.plate.thickness.root);
    assert_eq!(gear.plate.rake.get::<degree>(), 0.0);
    assert_eq!(gear.plate.bend_radius, None);
    assert_eq!(gear.wheel.tyre_stiffness, None);
    assert!(gear.braces.is_empty() && gear.mount.is_none());
    assert!((gear.plate.leg_angle.get::<degree>() - 40.0).abs() < 1e-12);
    assert!((gear.base_width().get::<millimeter>() - 120.0).abs() < 1e-9);
}

#[test]
fn words_become_what_they_mean() {
    let twin = good("twin-pinned").0;
    assert!(matches!(twin.gears[0].arms, Arms::Twin { axle_joint: AxleJoint::Pinned, .. }));
    assert_eq!(twin.gears[0].wheel.overhang.get::<millimeter>(), 0.0);
    let near = good("pair-near").0;
    let brace = &near.gears[0].braces[0];
    assert_eq!(brace.pattern, Pattern::Near);
    assert!(matches!(brace.fit, WireFit::Slack(s) if (s.get::<millimeter>() - 0.3).abs() < 1e-12));
    let tie = good("pair-tie").0;
    assert_eq!(tie.gears[0].braces[0].base_at, None);
    let unknown = good("unknown-metal").0;
    assert_eq!(unknown.gears[0].plate.metal, PlateMetal::Unknown);
    assert!(matches!(unknown.landing.severity, Severity::Arrival(ref row) if row.name == "firm"));
    let nose = good("nose-single").0;
    assert_eq!(nose.gears[1].position, Position::Nose);
    assert_eq!(nose.landing.cases.as_ref().map(Vec::len), Some(5));
    assert_eq!(nose.landing.cases.as_ref().and_then(|c| c.get(3)), Some(&CaseId::OneWheelWhole));
    let cases = good("user-cases").0.cases;
    assert_eq!(cases.len(), 3);
    assert_eq!(
        (cases[1].gear, cases[1].loads[0].side, cases[1].loads[0].at),
        (1, Side::Centre, LoadPoint::Axle)
    );
    assert_eq!(cases[1].loads[0].aft.get::<newton>(), -120.0);
    assert_eq!(cases[2].loads.len(), 1);
    assert_eq!(cases[0].loads.iter().map(|l| l.side).collect::<Vec<_>>(), [Side::Left, Side::Right]);
}

#[test]
fn a_mount_is_kept_in_full() {
    let near = |length: Length, mm: f64| (length.get::<millimeter>() - mm).abs() < 1e-9;
    let project = good("mount-full").0;
    let [main, nose] = project.gears.as_slice() else { panic!("two gears") };
    assert_eq!((main.give_first, nose.give_first), (Some(PartKind::Bolts), Some(PartKind::Legs)));
    assert_eq!(main.wheel.axle_thread.as_ref().map(|t| t.name.as_str()), Some("M6"));
    assert_eq!(nose.wheel.axle_thread, None);
    assert_eq!(
        main.braces.iter().map(|b| (b.base_in, main.anchor_in(b))).collect::<Vec<_>>(),
        [(Some(AnchorIn::Wood), Some(AnchorIn::Wood)), (Some(AnchorIn::Plate), Some(AnchorIn::Plate))]
    );
    let mount = main.mount.as_ref().expect("it has one");
    assert!(
        near(mount.hole_diameter(), 5.5) && near(mount.thread_in_nut(), 4.5) && near(mount.wood_depth(), 9.0)
    );
    assert!(matches!(mount.preload, Some(Preload::Torque(_))));
    // 0.5 N m on M5 with K = 0.2 pulls with 500 N.
    assert!((mount.nominal_preload().get::<newton>() - 500.0).abs() < 1e-9);
    assert_eq!(mount.pull_through.map(|f| f.get::<newton>()), Some(900.0));
    assert_eq!(mount.foot, None);
    let span = mount.span.expect("it spans");
    assert!(near(span.length, 160.0) && span.breadth.is_some_and(|b| near(b, 100.0)));
    assert_eq!(
        (span.direction, span.edges, span.grain),
        (SpanDirection::Athwart, SpanEdges::Clamped, Some(Grain::Across))
    );
    let glue = mount.glue.expect("it is glued");
    assert!((glue.area.get::<square_millimeter>() - 1200.0).abs() < 1e-6);
    assert!((glue.strength.get::<megapascal>() - 3.0).abs() < 1e-9);
    // Bends of 12 mm inside in a plate of 4 mm, through 50 deg: 14 tan 25 deg of the base is not flat at each end.
    let plate = main.base_plate().expect("it has a mount");
    let flat = 60.0 - 14.0 * 25.0_f64.to_radians().tan();
    assert!(near(plate.flat[0], -flat) && near(plate.flat[1], flat) && near(plate.width, 60.0));

    let foot = nose.base_plate().expect("it has a mount");
    assert_eq!(nose.foot_side(), Side::Left);
    assert!(near(foot.reach[0], -50.0) && near(foot.reach[1], 0.0));
    assert!(near(foot.flat[0], -50.0) && near(foot.flat[1], -10.5), "a bend of 90 deg takes R + t/2");
    let mount = nose.mount.as_ref().expect("it has one");
    assert_eq!(mount.nominal_preload().get::<newton>(), 400.0);
    assert!(near(mount.hole_diameter(), 4.0) && near(mount.thread_in_nut(), 3.2));
    let span = mount.span.expect("it spans");
    assert_eq!(
        (span.direction, span.edges, span.grain, span.breadth),
        (SpanDirection::ForeAndAft, SpanEdges::Supported, None, None)
    );
    assert!(mount.glue.is_none() && mount.doubler.is_none());
}

/// A foot on the side that the arm leans to is bent back by more than a right angle, one on the other side by less.
#[test]
fn a_foots_bend_knows_its_side() {
    let project = good("mount-full").0;
    let mut gear = project.gears.into_iter().nth(1).expect("the nose gear");
    gear.plate.leg_angle = Angle::new::<degree>(20.0);
    let mut brace = good("pair-near").0.gears[0].braces[0].clone();
    brace.base_at = Some(Length::new::<millimeter>(30.0));
    for (starboard, half_bend) in [(false, 35.0_f64), (true, 55.0)] {
        if starboard {
            for (_, y) in gear.mount.iter_mut().flat_map(|m| &mut m.bolts) {
                *y = -*y;
            }
        }
        let [from, to] = gear.base_plate().expect("it has a mount").flat.map(|y| y.get::<millimeter>());
        let setback = 10.5 * half_bend.to_radians().tan();
        let [near, far] = if starboard { [from, to] } else { [-to, -from] };
        assert!((near - setback).abs() < 1e-9 && (far - 50.0).abs() < 1e-9, "{near} to {far}");
        // A near wire starts on the side where the arm leans, to starboard; a cross wire on the other.
        for (pattern, on_foot) in [(Pattern::Near, starboard), (Pattern::Cross, !starboard)] {
            let anchored = gear.anchor_in(&Brace { pattern, ..brace.clone() });
            assert_eq!(anchored == Some(AnchorIn::Plate), on_foot, "{pattern:?}");
        }
    }
}

#[test]
fn an_own_metal_keeps_its_basis() {
    let project = good("own-metal").0;
    let PlateMetal::Known(metal) = &project.gears[0].plate.metal else { panic!("its metal is known") };
    assert_eq!(metal.name, "shop-sheet");
    assert_eq!((metal.modulus.basis, metal.modulus.source.as_str()), (Basis::BenchTest, "this project file"));
    assert_eq!(metal.tangent_modulus.as_ref().map(|t| t.value.get::<megapascal>()), Some(0.0));
    assert_eq!(metal.bands.len(), 1);
    assert_eq!(metal.bands[0].up_to, None);
    assert_eq!(metal.poisson.value, 0.31);
    assert_eq!(metal.hardening_exponent, None);
    let project = good("own-metal-smooth").0;
    let PlateMetal::Known(metal) = &project.gears[0].plate.metal else { panic!("its metal is known") };
    assert_eq!(metal.tangent_modulus, None);
    let exponent = metal.hardening_exponent.as_ref().expect("it is given");
    assert_eq!((exponent.value, exponent.basis), (15.0, Basis::BenchTest));
    assert_eq!(exponent.source, "this project file");
}

#[test]
fn the_units_of_the_writer_are_kept() {
    let project = good("inches").0;
    assert_eq!(project.written_units.first(), Some(&Unit::Pound));
    assert_eq!(project.written_units.get(1), Some(&Unit::SquareInch));
    assert!(project.written_units.contains(&Unit::Swg) && project.written_units.contains(&Unit::Thou));
}

fn read(text: &str) -> Result<(Project, Vec<Diagnostic>), String> {
    let source = SourceText { name: "starter.toml".to_owned(), text: text.to_owned() };
    read_project(Arc::new(source), &LIBRARY).map_err(|found| render(&found.0, false))
}

#[test]
fn the_starter_is_accepted() {
    let (project, warnings) = read(STARTER).unwrap_or_else(|rendered| panic!("{rendered}"));
    assert_eq!(warnings, []);
    assert_eq!(project.gears.len(), 2);
    assert_eq!(project.gears[0].braces.len(), 1);
    assert!(STARTER.lines().all(|line| line.len() <= 110) && STARTER.is_ascii());
}

/// Every key that the starter shows behind `#` is good too: all of them are taken in, save the ones that
/// stand for another way to say the same thing.
#[test]
fn what_the_starter_comments_out_is_accepted() {
    let other_ways = [
        "sink_rate",
        "drop_height",
        "arrival",
        "thickness_root",
        "thickness_tip",
        "axle_joint",
        "slack",
        "torque",
        "foot",
        "hardening_exponent",
        // The starter states its load factor, so that there is nothing to limit.
        "most_load_factor",
    ];
    let text: String = STARTER
        .lines()
        .map(|line| {
            let bare = line.strip_prefix("# ").unwrap_or(line);
            let key = bare.split([' ', '=']).next().unwrap_or_default();
            let header = bare.starts_with('[');
            let known = bare.contains(" = ") && key.chars().all(|c| c.is_ascii_lowercase() || c == '_');
            let taken = (header || known) && !other_ways.contains(&key);
            format!("{}\n", if taken { bare } else { line })
        })
        .collect();
    // A drop tells of a sheet only where the legs may be of it.
    let text = text.replacen("metal = \"6082-T6\"", "metal = \"unknown\"", 1);
    let (project, warnings) = read(&text).unwrap_or_else(|rendered| panic!("{rendered}"));
    assert_eq!(warnings, []);
    assert!(project.gears[0].mount.is_some() && project.gears[0].limits.toe.is_some());
    assert!(project.gears[0].limits.clearance.is_some());
    assert_eq!((project.cases.len(), project.drop_tests.len()), (1, 1));
    let smooth: String = text
        .lines()
        .filter(|line| !line.starts_with("tangent_modulus"))
        .map(|line| match line.strip_prefix("# ") {
            Some(bare) if bare.starts_with("hardening_exponent") => format!("{bare}\n"),
            _ => format!("{line}\n"),
        })
        .collect();
    assert!(smooth.contains("\nhardening_exponent = "));
    read(&smooth).unwrap_or_else(|rendered| panic!("hardening_exponent: {rendered}"));
    let torque: String = text
        .lines()
        .filter(|line| !line.starts_with("preload"))
        .map(|line| match line.strip_prefix("# ") {
            Some(bare) if bare.starts_with("torque") => format!("{bare}\n"),
            _ => format!("{line}\n"),
        })
        .collect();
    assert!(torque.contains("\ntorque = "));
    let (with_torque, _) = read(&torque).unwrap_or_else(|rendered| panic!("torque: {rendered}"));
    let preload =
        |project: &Project| project.gears[0].mount.as_ref().map(|m| m.nominal_preload().get::<newton>());
    assert_eq!(preload(&with_torque).map(f64::round), preload(&project).map(f64::round));
    for way in other_ways.iter().take(3) {
        let text: String = text
            .lines()
            .map(|line| match line.strip_prefix("load_factor") {
                Some(_) => String::new(),
                None => {
                    line.strip_prefix("# ").filter(|bare| bare.starts_with(way)).unwrap_or(line).to_owned()
                        + "\n"
                }
            })
            .collect();
        read(&text).unwrap_or_else(|rendered| panic!("{way}: {rendered}"));
    }
}

fn texts() -> Vec<Vec<u8>> {
    let mut texts: Vec<Vec<u8>> =
        files().iter().map(|path| fs::read(path).expect("it can be read")).collect();
    texts.push(STARTER.as_bytes().to_vec());
    texts
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1500, ..ProptestConfig::default() })]

    /// Bytes changed, put in and left out anywhere, and the end cut off: an answer comes, and it can be rendered.
    #[test]
    fn damaged_files_never_bring_the_reader_down(
        which in any::<prop::sample::Index>(),
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>(), 0..5_u8), 0..12),
        cut in prop::option::of(any::<prop::sample::Index>()),
    ) {
        let texts = texts();
        let mut bytes = which.get(&texts).clone();
        for (place, byte, how) in changes {
            let at = place.index(bytes.len().max(1)).min(bytes.len().saturating_sub(1));
            let telling = b"[]{}=\"'#.,\n\\-0"[usize::from(byte) % 14];
            match how {
                0 => bytes[at] = byte,
                1 => bytes[at] = telling,
                2 => bytes.insert(at, telling),
                3 => bytes.insert(at, byte),
                _ => { bytes.remove(at); }
            }
        }
        if let Some(cut) = cut {
            let end = cut.index(bytes.len() + 1);
            bytes.truncate(end);
        }
        let text = String::from_utf8_lossy(&bytes).into_owned();
        match read(&text) {
            Ok((project, warnings)) => {
                prop_assert!(!project.gears.is_empty());
                prop_assert_eq!(warnings.is_empty(), render(&warnings, true).is_empty());
            }
            Err(rendered) => prop_assert!(!rendered.trim().is_empty(), "refused without a word"),
        }
    }

    /// Any text at all in the place of any value is read or refused at its place.
    #[test]
    fn any_value_is_read_or_refused(line in any::<prop::sample::Index>(), value in ".{0,24}") {
        let lines: Vec<&str> = STARTER.lines().collect();
        let at = line.index(lines.len());
        let text: String = lines
            .iter()
            .enumerate()
            .map(|(n, line)| match line.split_once(" = ") {
                Some((key, _)) if n == at => format!("{key} = {value}\n"),
                _ => format!("{line}\n"),
            })
            .collect();
        if let Err(rendered) = read(&text) {
            prop_assert!(rendered.contains("starter.toml"), "{rendered}");
        }
    }
}

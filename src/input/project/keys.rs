//! Every key of the project file with an example and the values accepted: one table for reading, for messages
//! and for suggestions.
//!
//! chosen: the limits are generous. They lie well outside anything built by hand, so that they catch a slipped
//! unit or a misplaced point and nothing else.

/// What a key accepts, beyond being of the right kind.
#[derive(Debug, Clone, Copy)]
pub(super) enum Accept {
    /// Judged where it is read: texts, choices, lists.
    Words,
    /// A quantity between two others, both included.
    Quantity { least: &'static str, most: &'static str },
    /// A plain number between two others. An open end is not itself accepted.
    Number { least: f64, most: f64, open_below: bool, open_above: bool },
}

/// A key.
#[derive(Debug)]
pub(super) struct Key {
    pub(super) name: &'static str,
    /// What may stand behind `=`, with quotes where they are needed.
    pub(super) example: &'static str,
    pub(super) accept: Accept,
}

const fn words(name: &'static str, example: &'static str) -> Key {
    Key { name, example, accept: Accept::Words }
}

const fn quantity(name: &'static str, example: &'static str, least: &'static str, most: &'static str) -> Key {
    Key { name, example, accept: Accept::Quantity { least, most } }
}

const fn number(name: &'static str, example: &'static str, least: f64, most: f64) -> Key {
    Key { name, example, accept: Accept::Number { least, most, open_below: false, open_above: false } }
}

/// A number that may not be the lower limit itself.
const fn number_above(name: &'static str, example: &'static str, least: f64, most: f64) -> Key {
    Key { name, example, accept: Accept::Number { least, most, open_below: true, open_above: false } }
}

/// A number that may be neither limit.
const fn number_inside(name: &'static str, example: &'static str, least: f64, most: f64) -> Key {
    Key { name, example, accept: Accept::Number { least, most, open_below: true, open_above: true } }
}

/// A section: how its header is written and what may stand in it.
#[derive(Debug)]
pub(super) struct Keys {
    /// The header with `NAME` for a name of the user's own.
    pub(super) header: &'static str,
    pub(super) names: &'static [&'static str],
}

pub(super) const ROOT: Keys = Keys {
    header: "the top of the file",
    names: &[
        "format",
        "aircraft",
        "landing",
        "gear",
        "metal",
        "wire",
        "case",
        "drop_test",
        "bench_test",
        "bench_prior",
        "size",
        "variant",
    ],
};

pub(super) const NAME: Key = words("name", "\"survey aeroplane\"");
pub(super) const MASS: Key = quantity("mass", "\"12.4 kg\"", "0.05 kg", "1000 kg");
pub(super) const LAYOUT: Key = words("layout", "\"tricycle\"");
pub(super) const WING_AREA: Key = quantity("wing_area", "\"0.92 m^2\"", "0.005 m^2", "200 m^2");
pub(super) const NOSE_SHARE: Key = number_inside("nose_share", "0.12", 0.0, 0.5);
pub(super) const AIRCRAFT: Keys =
    Keys { header: "[aircraft]", names: &["name", "mass", "layout", "wing_area", "nose_share"] };

pub(super) const LOAD_FACTOR: Key = number("load_factor", "3.5", 1.0, 20.0);
pub(super) const SINK_RATE: Key = quantity("sink_rate", "\"1.6 m/s\"", "0.05 m/s", "15 m/s");
pub(super) const DROP_HEIGHT: Key = quantity("drop_height", "\"130 mm\"", "1 mm", "10 m");
pub(super) const ARRIVAL: Key = words("arrival", "\"firm\"");
pub(super) const WING_LIFT: Key = number("wing_lift", "0.667", 0.0, 1.0);
pub(super) const FRICTION: Key = number("friction", "0.8", 0.0, 1.5);
pub(super) const ULTIMATE_FACTOR: Key = number("ultimate_factor", "1.5", 1.0, 3.0);
pub(super) const OBSTACLE_DRAG: Key = number_above("obstacle_drag", "2.0", 0.0, 20.0);
pub(super) const CASES: Key = words("cases", "[\"level\", \"one-wheel\"]");
pub(super) const LANDING: Keys = Keys {
    header: "[landing]",
    names: &[
        "load_factor",
        "sink_rate",
        "drop_height",
        "arrival",
        "wing_lift",
        "friction",
        "ultimate_factor",
        "obstacle_drag",
        "cases",
    ],
};

pub(super) const POSITION: Key = words("position", "\"main\"");
pub(super) const ARMS: Key = words("arms", "\"pair\"");
pub(super) const CG_DISTANCE: Key = quantity("cg_distance", "\"420 mm\"", "1 mm", "20 m");
pub(super) const GIVE_FIRST: Key = words("give_first", "\"legs\"");
pub(super) const GIVE_FIRST_IN: Key = words("give_first_in", "[\"obstacle\"]");
pub(super) const GEAR: Keys = Keys {
    header: "[gear.NAME]",
    names: &[
        "position",
        "arms",
        "cg_distance",
        "give_first",
        "give_first_in",
        "plate",
        "wheel",
        "brace",
        "mount",
        "limits",
    ],
};

pub(super) const SHEET: Key = words("sheet", "\"bench\"");
pub(super) const KIND: Key = words("kind", "\"bend-strip\"");
pub(super) const STRIP_WIDTH: Key = quantity("width", "\"25 mm\"", "2 mm", "500 mm");
pub(super) const STRIP_LENGTH: Key = quantity("length", "\"150 mm\"", "10 mm", "5 m");
pub(super) const WEIGHTS: Key = quantity("weights", "[\"2 kg\", \"3 kg\"]", "1 g", "500 kg");
pub(super) const SETS: Key = quantity("sets", "[\"0 mm\", \"1.5 mm\"]", "0 mm", "1 m");
pub(super) const WEIGHT: Key = quantity("weight", "\"1 kg\"", "1 g", "500 kg");
pub(super) const MOVEMENT: Key = quantity("movement", "\"8 mm\"", "0.1 mm", "1 m");
pub(super) const ROD_RADIUS: Key = quantity("radius", "\"10 mm\"", "0.1 mm", "20 m");
pub(super) const RADIUS_AFTER: Key = quantity("radius_after", "\"11 mm\"", "0.1 mm", "1000 m");
pub(super) const BENT: Key = quantity("angle", "\"90 deg\"", "5 deg", "360 deg");
pub(super) const BENT_AFTER: Key = quantity("angle_after", "\"86.5 deg\"", "0 deg", "360 deg");
pub(super) const STRAIGHT: Key = words("straight", "\"yes\"");
pub(super) const PIECE_MASS: Key = quantity("mass", "\"104.2 g\"", "1 g", "100 kg");
pub(super) const IN_WATER: Key = quantity("in_water", "\"65.6 g\"", "0.1 g", "100 kg");
pub(super) const BRINELL: Key = number("brinell", "95", 5.0, 700.0);
pub(super) const VICKERS: Key = number("vickers", "107", 5.5, 760.0);
pub(super) const DENT: Key = quantity("dent", "\"2.1 mm\"", "0.1 mm", "20 mm");
pub(super) const KNOWN_DENT: Key = quantity("known_dent", "\"2.4 mm\"", "0.1 mm", "20 mm");
pub(super) const KNOWN: Key = words("known", "\"6082-T6\"");
pub(super) const IACS: Key = number("iacs", "43", 0.5, 66.0);
pub(super) const MS_PER_M: Key = number("ms_per_m", "25", 0.3, 38.0);
pub(super) const CURRENT: Key = quantity("current", "\"4 A\"", "1 mA", "200 A");
pub(super) const VOLTAGE: Key = quantity("voltage", "\"1.3 mV\"", "1 uV", "1 V");
pub(super) const READING: Key = number("reading", "12", -1000.0, 10_000.0);
pub(super) const KNOWN_READINGS: Key = number("known_readings", "[15, 9]", -1000.0, 10_000.0);
pub(super) const KNOWN_PIECES: Key = words("known_pieces", "[\"6082-T6\", \"5083-O\"]");
pub(super) const CRACKED: Key = words("cracked", "\"no\"");
pub(super) const ANSWER: Key = words("answer", "\"yes\"");
pub(super) const MARK: Key = words("read", "\"6082-T6\"");
pub(super) const WORD: Key = words("word", "\"6082\"");
pub(super) const TRUST: Key = number("trust", "0.7", 0.0, 1.0);
pub(super) const NONE_OF_THESE: Key = number_inside("none_of_these", "0.05", 0.0, 1.0);
/// A row's or an alloy's factor in `[bench_prior]`.
pub(super) const ROW_WEIGHT: Key = number_above("6082", "3", 0.0, 1000.0);
/// Every key that some bench test takes; which of them a kind takes is said where it is read.
pub(super) const BENCH_TEST: Keys = Keys {
    header: "[[bench_test]]",
    names: &[
        "sheet",
        "kind",
        "width",
        "thickness",
        "length",
        "weights",
        "sets",
        "weight",
        "movement",
        "radius",
        "radius_after",
        "angle",
        "angle_after",
        "straight",
        "mass",
        "in_water",
        "brinell",
        "vickers",
        "dent",
        "known_dent",
        "known",
        "reading",
        "known_readings",
        "known_pieces",
        "iacs",
        "ms_per_m",
        "current",
        "voltage",
        "gear",
        "height",
        "wing_lift",
        "set",
        "error",
        "cracked",
        "answer",
        "read",
        "word",
        "trust",
    ],
};

/// A plate's metal when nobody knows it.
pub(super) const UNKNOWN: &str = "unknown";
pub(super) const METAL: Key = words("metal", "\"6082-T6\"");
pub(super) const THICKNESS: Key = quantity("thickness", "\"4 mm\"", "0.1 mm", "30 mm");
pub(super) const THICKNESS_ROOT: Key = quantity("thickness_root", "\"5 mm\"", "0.1 mm", "30 mm");
pub(super) const THICKNESS_TIP: Key = quantity("thickness_tip", "\"3 mm\"", "0.1 mm", "30 mm");
pub(super) const WIDTH_ROOT: Key = quantity("width_root", "\"60 mm\"", "3 mm", "1 m");
pub(super) const WIDTH_TIP: Key = quantity("width_tip", "\"34 mm\"", "3 mm", "1 m");
pub(super) const BASE_WIDTH: Key = quantity("base_width", "\"120 mm\"", "3 mm", "3 m");
pub(super) const LEG_LENGTH: Key = quantity("leg_length", "\"230 mm\"", "10 mm", "5 m");
pub(super) const LEG_ANGLE: Key = quantity("leg_angle", "\"40 deg\"", "-10 deg", "85 deg");
pub(super) const LEG_ANGLE_SINGLE: Key = quantity("leg_angle", "\"0 deg\"", "-85 deg", "85 deg");
pub(super) const RAKE: Key = quantity("rake", "\"0 deg\"", "-80 deg", "80 deg");
pub(super) const BEND_RADIUS: Key = quantity("bend_radius", "\"12 mm\"", "0.1 mm", "500 mm");
pub(super) const PLATE: Keys = Keys {
    header: "[gear.NAME.plate]",
    names: &[
        "metal",
        "thickness",
        "thickness_root",
        "thickness_tip",
        "width_root",
        "width_tip",
        "base_width",
        "leg_length",
        "leg_angle",
        "rake",
        "bend_radius",
    ],
};

pub(super) const DIAMETER_WHEEL: Key = quantity("diameter", "\"110 mm\"", "10 mm", "1 m");
pub(super) const OVERHANG: Key = quantity("overhang", "\"22 mm\"", "0 mm", "500 mm");
pub(super) const AXLE: Key = quantity("axle", "\"5 mm\"", "0.5 mm", "50 mm");
pub(super) const AXLE_METAL: Key = words("axle_metal", "\"steel-8.8\"");
pub(super) const AXLE_THREAD: Key = words("axle_thread", "\"M5\"");
pub(super) const AXLE_JOINT: Key = words("axle_joint", "\"clamped\"");
pub(super) const TYRE_STIFFNESS: Key = quantity("tyre_stiffness", "\"20 N/mm\"", "0.05 N/mm", "10000 N/mm");
pub(super) const WHEEL: Keys = Keys {
    header: "[gear.NAME.wheel]",
    names: &["diameter", "overhang", "axle", "axle_metal", "axle_thread", "axle_joint", "tyre_stiffness"],
};

pub(super) const PATTERN: Key = words("pattern", "\"cross\"");
pub(super) const WIRE: Key = words("wire", "\"302-spring\"");
pub(super) const DIAMETER_WIRE: Key = quantity("diameter", "\"1.5 mm\"", "0.1 mm", "12 mm");
pub(super) const LEG_AT: Key = number_above("leg_at", "0.9", 0.0, 1.0);
pub(super) const BASE_AT: Key = quantity("base_at", "\"55 mm\"", "0 mm", "3 m");
pub(super) const BASE_IN: Key = words("base_in", "\"wood\"");
pub(super) const END: Key = words("end", "\"threaded\"");
pub(super) const PRETENSION: Key = quantity("pretension", "\"20 N\"", "0 N", "100 kN");
pub(super) const SLACK: Key = quantity("slack", "\"0.3 mm\"", "0 mm", "100 mm");
pub(super) const FITTED: Key = words("fitted", "\"yes\"");
pub(super) const BRACE: Keys = Keys {
    header: "[[gear.NAME.brace]]",
    names: &[
        "pattern",
        "wire",
        "diameter",
        "leg_at",
        "base_at",
        "base_in",
        "end",
        "pretension",
        "slack",
        "fitted",
    ],
};

pub(super) const BOLT: Key = words("bolt", "\"M5\"");
pub(super) const BOLT_CLASS: Key = words("bolt_class", "\"8.8\"");
pub(super) const BOLTS: Key = words("bolts", "[[\"-20 mm\", \"-45 mm\"], [\"20 mm\", \"45 mm\"]]");
/// One of the two numbers of a bolt's place.
pub(super) const BOLT_PLACE: Key = quantity("bolts", "[\"-20 mm\", \"-45 mm\"]", "-3 m", "3 m");
pub(super) const HOLE: Key = quantity("hole", "\"5.5 mm\"", "0.5 mm", "100 mm");
pub(super) const PRELOAD: Key = quantity("preload", "\"500 N\"", "0 N", "1000 kN");
pub(super) const TORQUE: Key = quantity("torque", "\"2 N m\"", "0 N m", "1000 N m");
pub(super) const NUT_FLANGE: Key = quantity("nut_flange", "\"12 mm\"", "1 mm", "100 mm");
pub(super) const NUT_HEIGHT: Key = quantity("nut_height", "\"4 mm\"", "0.3 mm", "100 mm");
pub(super) const PULL_THROUGH: Key = quantity("pull_through", "\"900 N\"", "1 N", "100 kN");
pub(super) const FOOT: Key = quantity("foot", "\"50 mm\"", "3 mm", "1 m");
pub(super) const WOOD: Key = words("wood", "\"birch-plywood\"");
pub(super) const WOOD_THICKNESS: Key = quantity("wood_thickness", "\"6 mm\"", "0.3 mm", "100 mm");
pub(super) const DOUBLER: Key = quantity("doubler", "\"3 mm\"", "0.3 mm", "100 mm");
pub(super) const WOOD_WIDTH: Key = quantity("wood_width", "\"100 mm\"", "5 mm", "3 m");
pub(super) const WOOD_SPAN: Key = words("wood_span", "\"fore-and-aft\"");
pub(super) const WOOD_EDGES: Key = words("wood_edges", "\"supported\"");
pub(super) const WOOD_GRAIN: Key = words("wood_grain", "\"along\"");
pub(super) const WOOD_BREADTH: Key = quantity("wood_breadth", "\"140 mm\"", "5 mm", "3 m");
pub(super) const GLUE_AREA: Key = quantity("glue_area", "\"12 cm^2\"", "1 mm^2", "1 m^2");
pub(super) const GLUE_STRENGTH: Key = quantity("glue_strength", "\"3 MPa\"", "0.01 MPa", "100 MPa");
pub(super) const MOUNT: Keys = Keys {
    header: "[gear.NAME.mount]",
    names: &[
        "bolt",
        "bolt_class",
        "bolts",
        "hole",
        "preload",
        "torque",
        "nut_flange",
        "nut_height",
        "pull_through",
        "foot",
        "wood",
        "wood_thickness",
        "doubler",
        "wood_width",
        "wood_span",
        "wood_edges",
        "wood_grain",
        "wood_breadth",
        "glue_area",
        "glue_strength",
    ],
};

pub(super) const SPREAD: Key = quantity("spread", "\"30 mm\"", "0.1 mm", "2 m");
pub(super) const DROP: Key = quantity("drop", "\"40 mm\"", "0.1 mm", "2 m");
pub(super) const TOE: Key = quantity("toe", "\"2 deg\"", "0.01 deg", "45 deg");
pub(super) const CLEARANCE: Key = quantity("clearance", "\"60 mm\"", "1 mm", "2 m");
pub(super) const LIMITS: Keys =
    Keys { header: "[gear.NAME.limits]", names: &["spread", "drop", "toe", "clearance"] };

pub(super) const YIELD: Key = quantity("yield", "\"180 MPa\"", "1 MPa", "5 GPa");
pub(super) const ULTIMATE_METAL: Key = quantity("ultimate", "\"230 MPa\"", "1 MPa", "5 GPa");
pub(super) const MODULUS_METAL: Key = quantity("modulus", "\"70 GPa\"", "0.1 GPa", "1000 GPa");
pub(super) const POISSON: Key = number_inside("poisson", "0.33", 0.0, 0.5);
pub(super) const TANGENT_MODULUS: Key = quantity("tangent_modulus", "\"700 MPa\"", "0 MPa", "1000 GPa");
pub(super) const HARDENING_EXPONENT: Key = number("hardening_exponent", "15", 2.0, 100.0);
pub(super) const DENSITY_METAL: Key = quantity("density", "\"2700 kg/m^3\"", "100 kg/m^3", "30000 kg/m^3");
pub(super) const BASIS: Key = words("basis", "\"bench test\"");
pub(super) const OWN_METAL: Keys = Keys {
    header: "[metal.NAME]",
    names: &[
        "yield",
        "ultimate",
        "modulus",
        "poisson",
        "tangent_modulus",
        "hardening_exponent",
        "density",
        "basis",
    ],
};

pub(super) const MODULUS_WIRE: Key = quantity("modulus", "\"190 GPa\"", "0.1 GPa", "1000 GPa");
pub(super) const ULTIMATE_WIRE: Key = quantity("ultimate", "\"1500 MPa\"", "1 MPa", "10 GPa");
pub(super) const DENSITY_WIRE: Key = quantity("density", "\"7900 kg/m^3\"", "100 kg/m^3", "30000 kg/m^3");
pub(super) const OWN_WIRE: Keys =
    Keys { header: "[wire.NAME]", names: &["modulus", "ultimate", "density", "basis"] };

/// The gear that a case or a drop is about.
pub(super) const GEAR_NAME: Key = words("gear", "\"main\"");

pub(super) const CASE_NAME: Key = words("name", "\"lift by the wheels\"");
pub(super) const CASE: Keys = Keys { header: "[[case]]", names: &["name", "gear", "left", "right", "wheel"] };

pub(super) const VERTICAL: Key = quantity("vertical", "\"200 N\"", "-100 kN", "100 kN");
pub(super) const AFT: Key = quantity("aft", "\"50 N\"", "-100 kN", "100 kN");
pub(super) const SIDE: Key = quantity("side", "\"0 N\"", "-100 kN", "100 kN");
pub(super) const AT: Key = words("at", "\"axle\"");
pub(super) const LOAD: Keys =
    Keys { header: "a wheel's load in [[case]]", names: &["vertical", "aft", "side", "at"] };

pub(super) const TEST_HEIGHT: Key = quantity("height", "\"200 mm\"", "5 mm", "3 m");
pub(super) const TEST_WING_LIFT: Key = number("wing_lift", "0", 0.0, 1.0);
pub(super) const TEST_SET: Key = quantity("set", "\"4 mm\"", "0 mm", "2 m");
pub(super) const TEST_ERROR: Key = quantity("error", "\"1 mm\"", "0.05 mm", "50 mm");
pub(super) const DROP_TEST: Keys = Keys {
    header: "[[drop_test]]",
    names: &["gear", "height", "mass", "wing_lift", "spread", "set", "error"],
};

pub(super) const WISH_MARGIN: Key = number("margin", "0.1", 0.0, 5.0);
pub(super) const MOST_MASS: Key = quantity("most_mass", "\"600 g\"", "1 g", "100 kg");
pub(super) const MOST_LOAD_FACTOR: Key = number("most_load_factor", "5", 1.0, 60.0);
pub(super) const SOLD: Key = words("sold", "\"metric\"");
pub(super) const SIZE: Keys =
    Keys { header: "[size]", names: &["margin", "most_mass", "most_load_factor", "sold"] };

/// Every section, to say where a misplaced key belongs.
pub(super) const SECTIONS: [&Keys; 16] = [
    &ROOT,
    &AIRCRAFT,
    &LANDING,
    &GEAR,
    &PLATE,
    &WHEEL,
    &BRACE,
    &MOUNT,
    &LIMITS,
    &OWN_METAL,
    &OWN_WIRE,
    &CASE,
    &LOAD,
    &DROP_TEST,
    &SIZE,
    &BENCH_TEST,
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::STARTER;
    use crate::input::quantity::FromText;
    use crate::units::{Angle, Area, Force, Length, Mass, MassDensity, Moment, Stiffness, Stress, Velocity};

    /// Limits are texts, so a slip in one would only show when a builder runs into it.
    #[test]
    fn limits_and_examples_can_be_read() {
        fn good<Q: FromText + PartialOrd>(keys: &[&Key]) {
            for key in keys {
                let Accept::Quantity { least, most } = key.accept else {
                    panic!("{} has no limits", key.name)
                };
                let read = |text: &str| Q::from_text(text).map(|w| w.value).map_err(|e| e.message);
                let (least, most) = (read(least).expect(key.name), read(most).expect(key.name));
                let example = key.example.trim_matches(['"', '[']).split('"').next().unwrap_or_default();
                let example = read(example).expect(key.name);
                assert!(least <= example && example <= most, "{}", key.name);
            }
        }
        good::<Length>(&[
            &DROP_HEIGHT,
            &THICKNESS,
            &THICKNESS_ROOT,
            &THICKNESS_TIP,
            &WIDTH_ROOT,
            &WIDTH_TIP,
            &BASE_WIDTH,
            &LEG_LENGTH,
            &BEND_RADIUS,
            &DIAMETER_WHEEL,
            &OVERHANG,
            &AXLE,
            &DIAMETER_WIRE,
            &BASE_AT,
            &SLACK,
            &BOLT_PLACE,
            &HOLE,
            &NUT_FLANGE,
            &NUT_HEIGHT,
            &FOOT,
            &WOOD_THICKNESS,
            &DOUBLER,
            &WOOD_WIDTH,
            &WOOD_BREADTH,
            &SPREAD,
            &DROP,
            &CLEARANCE,
            &TEST_HEIGHT,
            &TEST_SET,
            &TEST_ERROR,
            &CG_DISTANCE,
        ]);
        good::<Mass>(&[&MASS, &MOST_MASS]);
        good::<Area>(&[&WING_AREA, &GLUE_AREA]);
        good::<Velocity>(&[&SINK_RATE]);
        good::<Angle>(&[&LEG_ANGLE, &LEG_ANGLE_SINGLE, &RAKE, &TOE]);
        good::<Stiffness>(&[&TYRE_STIFFNESS]);
        good::<Force>(&[&PRETENSION, &PRELOAD, &PULL_THROUGH, &VERTICAL, &AFT, &SIDE]);
        good::<Moment>(&[&TORQUE]);
        good::<Stress>(&[
            &YIELD,
            &ULTIMATE_METAL,
            &MODULUS_METAL,
            &TANGENT_MODULUS,
            &MODULUS_WIRE,
            &ULTIMATE_WIRE,
            &GLUE_STRENGTH,
        ]);
        good::<MassDensity>(&[&DENSITY_METAL, &DENSITY_WIRE]);
    }

    #[test]
    fn the_starter_explains_every_key() {
        for section in SECTIONS {
            for name in section.names {
                let as_key = format!("{name} =");
                let as_section = [format!("[{name}"), format!(".{name}")];
                assert!(
                    STARTER.contains(&as_key) || as_section.iter().any(|s| STARTER.contains(s)),
                    "`{name}` of {} is not in the starter",
                    section.header
                );
            }
        }
    }
}

//! `[metal.NAME]` and `[wire.NAME]`: materials of the builder's own.

use super::keys;
use super::section::{Context, Found, Section, nearest, shown, unprintable};
use super::tree::{Entry, Span, Table, Value};
use crate::diagnostic::Diagnostic;
use crate::material::{Basis, Family, Metal, MetalBand, NameTaken, Sourced, TableRow, Wire, WireStrength};
use crate::units::{Length, MassDensity, Stress};

/// What every value of an own material gives as its source.
const SOURCE: &str = "this project file";
/// Poisson's ratio of an own metal that does not give one. chosen: that of aluminium and near enough for steel.
const POISSON: f64 = 0.33;

/// The materials of one kind that the file describes, good or bad.
pub(super) struct Own<T> {
    kind: &'static str,
    rows: Vec<(String, Option<T>)>,
}

pub(super) type OwnMetals = Own<Metal>;
pub(super) type OwnWires = Own<Wire>;

impl<T> Own<T> {
    /// Whether the file has a section of this name.
    pub(super) fn has(&self, name: &str) -> bool {
        self.rows.iter().any(|(own, _)| own == name)
    }

    /// The material, when its section has no mistake.
    pub(super) fn get(&self, name: &str) -> Option<&T> {
        self.rows.iter().find(|(own, _)| own == name).and_then(|(_, row)| row.as_ref())
    }

    /// Takes in one that is described in other sections; `None` when something is wrong with it, which has been noted.
    pub(super) fn add(&mut self, name: String, row: Option<T>) {
        self.rows.push((name, row));
    }

    /// Points from a name that is in no table to one like it in the file.
    pub(super) fn hint(&self, section: &Section<'_>, name: &str, span: Option<Span>) {
        let near = nearest(name, self.rows.iter().map(|(own, _)| own.as_str()));
        let (Some(near), Some(span)) = (near, span) else { return };
        let mut found = section.cx.found.borrow_mut();
        if let Some(last) = found.last_mut()
            && last.location.as_ref().is_some_and(|place| place.span == span)
        {
            last.label = Some(format!("perhaps `{near}`"));
            last.help.insert(0, format!("this file describes [{}.{}]", self.kind, shown(near)));
        }
    }
}

/// Reads every `[metal.NAME]`.
pub(super) fn metals<'a>(cx: &'a Context<'a>, root: &'a Table) -> OwnMetals {
    each(cx, root, "metal", &keys::OWN_METAL, |name| table_of::<Metal>(cx, name), metal)
}

/// Reads every `[wire.NAME]`.
pub(super) fn wires<'a>(cx: &'a Context<'a>, root: &'a Table) -> OwnWires {
    each(cx, root, "wire", &keys::OWN_WIRE, |name| table_of::<Wire>(cx, name), wire)
}

/// What to say of a name that a row of the tables has.
fn table_of<R: TableRow + 'static>(cx: &Context<'_>, name: &str) -> Option<NameTaken> {
    let taken = cx.library.look_alike::<R>(name)?;
    let table = cx.library.origin::<R>(taken).map(str::to_owned);
    Some(NameTaken { what: R::WHAT, name: taken.to_owned(), table })
}

fn each<'a, T>(
    cx: &'a Context<'a>,
    root: &'a Table,
    kind: &'static str,
    keys: &keys::Keys,
    taken: impl Fn(&str) -> Option<NameTaken>,
    read: impl Fn(&Section<'_>, &str) -> Option<T>,
) -> Own<T> {
    let mut own = Own { kind, rows: Vec::new() };
    let Some(entry) = root.get(kind) else { return own };
    let Value::Table(table) = &entry.node.value else {
        let wrong = Diagnostic::error(
            "wrong-type",
            format!("`{kind}` is {} in the place of a section", entry.node.value.words()),
        )
        .help(format!("describe a {kind} of your own in a section with a name, as in {}", keys.header));
        cx.note(wrong, entry.node.span.clone());
        return own;
    };
    for entry in &table.entries {
        let name = &entry.key;
        if let Some(section) = own_section(cx, kind, entry, keys)
            && name_is_free(cx, kind, entry, taken(name).as_ref())
        {
            let row = read(&section, name);
            own.rows.push((name.clone(), row));
        } else {
            own.rows.push((name.clone(), None));
        }
    }
    own
}

fn own_section<'a>(
    cx: &'a Context<'a>,
    kind: &str,
    entry: &'a Entry,
    keys: &keys::Keys,
) -> Option<Section<'a>> {
    let title = format!("[{kind}.{}]", shown(&entry.key));
    match &entry.node.value {
        Value::Table(table) => {
            let path = format!("{kind}.{}", entry.key);
            Some(Section::open(cx, path, title, entry.node.span.clone(), table, keys))
        }
        other => {
            let wrong = Diagnostic::error(
                "wrong-type",
                format!("`{}` is {} in the place of a {kind}", shown(&entry.key), other.words()),
            )
            .help(format!("describe a {kind} of your own in a section with a name, as in {}", keys.header));
            cx.note(wrong, entry.node.span.clone());
            None
        }
    }
}

fn name_is_free(cx: &Context<'_>, kind: &str, entry: &Entry, taken: Option<&NameTaken>) -> bool {
    let refused = if let Some(trouble) = unprintable(&entry.key) {
        Diagnostic::error("bad-text", format!("the name of a {kind} {trouble}"))
    } else if entry.key == keys::UNKNOWN {
        Diagnostic::error("name-taken", "\"unknown\" is kept for a metal that nobody knows")
    } else if let Some(taken) = taken {
        Diagnostic::error("name-taken", taken.to_string())
            .help("a number of the tables never changes silently: an own material needs its own name")
    } else {
        return true;
    };
    cx.note(refused.help(format!("choose another name, as in [{kind}.shop-{kind}]")), entry.key_span.clone());
    false
}

fn basis(section: &Section<'_>) -> Found<Basis> {
    let words = Basis::ALL.map(|basis| (basis.words(), basis));
    section.choice(&keys::BASIS, &words)
}

fn metal(section: &Section<'_>, name: &str) -> Option<Metal> {
    let yield_strength = section.needed_quantity::<Stress>(&keys::YIELD);
    let ultimate = section.needed_quantity::<Stress>(&keys::ULTIMATE_METAL);
    let modulus = section.needed_quantity::<Stress>(&keys::MODULUS_METAL);
    let poisson = section.number(&keys::POISSON).take();
    let tangent = section.quantity::<Stress>(&keys::TANGENT_MODULUS);
    let exponent = section.number(&keys::HARDENING_EXPONENT);
    let density = section.needed_quantity::<MassDensity>(&keys::DENSITY_METAL);
    let basis = basis(section).take().unwrap_or(Basis::Told);
    if let (Some(low), Some((high, span))) = (yield_strength.value(), ultimate.placed())
        && *high < low
    {
        let refused = Diagnostic::error(
            "contradiction",
            "`ultimate` is less than `yield`: a metal can't break before it bends for good",
        )
        .help("perhaps the two are swapped");
        section.note(refused, span);
    }
    if let (Some(modulus), Some((tangent, span))) = (modulus.value(), tangent.placed())
        && *tangent >= modulus
    {
        let refused = Diagnostic::error(
            "contradiction",
            "`tangent_modulus` is the slope beyond yield and has to be less than `modulus`",
        )
        .help("such as tangent_modulus = \"700 MPa\"; leave it out if you don't know it");
        section.note(refused, span);
    }
    if let (true, Some(span)) = (tangent.given(), exponent.span()) {
        let refused = Diagnostic::error(
            "contradiction",
            "a metal can't have `tangent_modulus` and `hardening_exponent` at once: both say how it goes on beyond yield",
        )
        .help("keep the one you have measured: the slope of a straight line, or the exponent n of (sigma / yield)^n");
        section.note(refused, span);
    }
    let sourced = |value| Sourced::new(value, basis, SOURCE);
    // The default is not the builder's number, so it does not carry the builder's basis.
    let poisson = match poisson {
        Some(value) => Sourced::new(value, basis, SOURCE),
        None => Sourced::new(POISSON, Basis::CommonPractice, "default for a metal of one's own"),
    };
    Some(Metal {
        name: name.to_owned(),
        aliases: Vec::new(),
        family: Family::Other,
        modulus: sourced(modulus.take()?),
        poisson,
        density: Sourced::new(density.take()?, basis, SOURCE),
        conductivity: None,
        tangent_modulus: tangent.take().map(sourced),
        hardening_exponent: exponent.take().map(|n| Sourced::new(n, basis, SOURCE)),
        tested: None,
        bands: vec![MetalBand {
            over: Length::default(),
            up_to: None,
            yield_strength: Some(sourced(yield_strength.take()?)),
            yield_maximum: None,
            ultimate: Some(sourced(ultimate.take()?)),
            ultimate_maximum: None,
            elongation: None,
            hardness: None,
            bend_radius_90: None,
            bend_radius_180: None,
        }],
    })
}

fn wire(section: &Section<'_>, name: &str) -> Option<Wire> {
    let modulus = section.needed_quantity::<Stress>(&keys::MODULUS_WIRE);
    let ultimate = section.needed_quantity::<Stress>(&keys::ULTIMATE_WIRE);
    let density = section.needed_quantity::<MassDensity>(&keys::DENSITY_WIRE);
    let basis = basis(section).take().unwrap_or(Basis::Told);
    Some(Wire {
        name: name.to_owned(),
        aliases: Vec::new(),
        modulus: Sourced::new(modulus.take()?, basis, SOURCE),
        density: Sourced::new(density.take()?, basis, SOURCE),
        strength: WireStrength::Constant(Sourced::new(ultimate.take()?, basis, SOURCE)),
        yield_fraction: None,
    })
}

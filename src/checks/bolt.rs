//! What the checks of the bolts share: the strength of a bolt, what its margin rests on, and what is peculiar to plastic.

use crate::material::{Basis, BoltClass, Sourced};
use crate::model::Mount;
use crate::results::{Amount, Margin, Term};
use crate::units::{Force, Stress};

/// Pull or shear smaller than this share of the other, or of the preload, is rounding.
pub(super) const TRACE: f64 = 1e-6;

/// Load at a stress on the thread's stress area.
pub(super) fn load_at(mount: &Mount, stress: Stress) -> Force {
    mount.bolt.stress_area() * stress
}

/// The terms that every strength of a bolt begins with: thread and stress area.
pub(super) fn area_term(mount: &Mount) -> Term {
    Term::new("A_s", format!("stress area of {}", mount.bolt.name), Amount::Area(mount.bolt.stress_area()))
}

/// What a strength on a thread's area rests on: the strength's own basis, or the thread's where that needs a word.
pub(super) fn basis<T>(mount: &Mount, strength: &Sourced<T>) -> Basis {
    let thread = mount.bolt.provenance.basis;
    if thread.needs_a_word() { strength.basis.max(thread) } else { strength.basis }
}

/// Sets the allowable that follows from the class's tensile strength, and decides.
///
/// For a plastic whose strength depends on moisture the working also shows the other state, the two being a range.
pub(super) fn decided(mut m: Margin, class: &BoltClass, allowable: impl Fn(Stress) -> Amount) -> Margin {
    let strength = &class.ultimate;
    m.allowable = Some(allowable(strength.value));
    if let Some(other) = &class.other_state {
        let strength = &other.ultimate;
        let there = Margin { allowable: Some(allowable(strength.value)), ..m.clone() };
        m.working.terms.push(Term::new(
            "f_ub′",
            format!("tensile strength of the same plastic when {}", other.words),
            Amount::Stress(strength.value),
        ));
        m.working.terms.extend(there.allowable.map(|a| Term::new("allowable′", "with f_ub′", a)));
        m.working.terms.extend(there.value().map(|v| Term::new("margin′", "with f_ub′", Amount::Number(v))));
        m.working.notes.push(format!(
            "Its strength depends on how moist it is. The margin lies between this one and margin′, which it has when {}.",
            other.words
        ));
    }
    if class.creeps() {
        m.working.notes.push(CREEPS.into());
    }
    m.decided()
}

/// Why no preload is counted on.
const CREEPS: &str = "A class without proof or yield strength is taken to creep, as nylon does: preload is gone within hours, and none is counted on.";

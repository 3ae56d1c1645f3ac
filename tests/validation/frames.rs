//! Plain frames for the solver itself.

use gearleg::kernel::{Beam, Frame, Rigidity, Section};

/// Puts a uniform beam between two nodes; its section bends alike about both axes.
///
/// EA in N, EI in N·m² (GJ the same: nothing here twists).
pub(crate) fn beam(frame: &mut Frame, start: usize, end: usize, axial: f64, bending: f64) {
    if frame.sections.is_empty() {
        frame.sections.push(Section::new(Vec::new()));
    }
    let (p, q) = (frame.nodes[start], frame.nodes[end]);
    let arm = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
    let length = arm.iter().map(|c| c * c).sum::<f64>().sqrt();
    // All these frames lie in the plane of y and z: the x axis is square to every member.
    let along = arm.map(|c| c / length);
    let square = [1.0, 0.0, 0.0];
    let third = crate::common::cross(along, square);
    let rigidity = Rigidity { axial, torsion: bending, bending_y: bending, bending_z: bending };
    frame.beams.push(Beam {
        start,
        end,
        axes: [along, square, third],
        rigidity: [rigidity; 5],
        hinged_end: false,
        start_section: 0,
        end_section: 0,
        yielding: None,
    });
}

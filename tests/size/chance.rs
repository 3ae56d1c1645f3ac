//! Files made up by chance, the same ones each time.

/// Numbers that look like chance. Source: G. Marsaglia, Xorshift RNGs, J. Stat. Softw. 8 (2003), with his shifts 13, 7, 17.
pub(crate) struct Chance(u64);

impl Chance {
    pub(crate) fn new(seed: u64) -> Self {
        let mut chance = Self(0x9E37_79B9_7F4A_7C15 ^ seed.wrapping_mul(0xD129_0D3B_35F9_8A4D));
        for _ in 0..8 {
            chance.next();
        }
        chance
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// Between two numbers.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn below(&mut self, count: usize) -> usize {
        (self.next() % count as u64) as usize
    }

    /// So many different ones of a list, in the order of the list.
    pub(crate) fn some<'t>(&mut self, list: &[&'t str], count: usize) -> Vec<&'t str> {
        let mut left = list.to_vec();
        while left.len() > count {
            left.remove(self.below(left.len()));
        }
        left
    }
}

fn quoted(list: &[&str]) -> String {
    let items: Vec<String> = list.iter().map(|i| format!("\"{i}\"")).collect();
    format!("[{}]", items.join(", "))
}

/// A tricycle's main gear of two clamped legs with a small catalogue, and the margin that is wished.
pub(crate) fn catalogue(seed: u64) -> (String, f64) {
    let mut chance = Chance::new(seed);
    let (mass, factor) = (chance.between(4.0, 14.0), chance.between(2.0, 5.0));
    let wish = if chance.below(3) == 0 { 0.0 } else { chance.between(0.0, 0.3) };
    let count = 1 + chance.below(2);
    let cases = chance.some(&["level", "tail-down", "one-wheel", "side", "braked-roll"], count + 1);
    let (metals, wires) = (1 + chance.below(2), 1 + chance.below(2));
    let thick = if metals == 1 { 4 } else { 3 };
    let thickness = chance.some(&["2.5 mm", "3 mm", "4 mm", "5 mm", "6 mm", "8 mm", "10 mm"], thick);
    let metal = chance.some(&["5083-H116", "6082-T6", "2024-T3", "7075-T6"], metals);
    let wire = chance.some(&["1.0 mm", "1.5 mm", "2.0 mm", "3.0 mm"], wires);
    // With or without wires or with a choice of widths, so that there are no more than 24 designs.
    let braced = chance.below(3) != 0;
    let width = if braced { "\"50 mm\"".to_owned() } else { quoted(&["40 mm", "50 mm", "60 mm"]) };
    let length = chance.between(120.0, 260.0);
    let angle = chance.between(15.0, 50.0);
    let mut text = format!(
        r#"format = 1
[aircraft]
name = "made up by chance"
mass = "{mass:.2} kg"
layout = "tricycle"
[landing]
load_factor = {factor:.3}
cases = {}
[gear.main]
position = "main"
arms = "pair"
[gear.main.plate]
metal = {}
thickness = {}
width_root = {width}
width_tip = "34 mm"
base_width = "120 mm"
leg_length = "{length:.1} mm"
leg_angle = "{angle:.1} deg"
[gear.main.wheel]
diameter = "100 mm"
overhang = "20 mm"
axle = "8 mm"
axle_metal = "steel-8.8"
[size]
margin = {wish:.3}
"#,
        quoted(&cases),
        quoted(&metal),
        quoted(&thickness)
    );
    if braced {
        // Tight, or hanging straight.
        let fit = if chance.below(2) == 0 { "pretension = \"10 N\"\n" } else { "" };
        text.push_str(&format!(
            "[[gear.main.brace]]\nfitted = \"?\"\npattern = \"cross\"\nwire = \"302-spring\"\ndiameter = {}\n\
             leg_at = 0.9\nbase_at = \"50 mm\"\nend = \"wrapped\"\n{fit}",
            quoted(&wire)
        ));
    }
    (text, (wish * 1000.0).round() / 1000.0)
}

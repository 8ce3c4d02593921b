//! The exported problem and its rates; layout in `benches/two_fields/mod.rs`.

const SIGMA: f64 = 5.670374419e-8;

/// All numbers of the file, by line.
#[derive(Clone)]
pub struct Problem {
    pub n: usize,
    /// Film coefficient, gas temperature, its vapour, radiation, emissivity, surroundings, start, rise, end.
    pub head: [f64; 9],
    vapour: [f64; 13],
    sorption: [f64; 8],
    growth: [f64; 7],
    air: [f64; 7],
    /// Heat capacity c0 + c1·T, content at the start, whether a sorbent binds, content at 65 %, pores.
    pub nodes: Vec<[f64; 6]>,
    /// Whether a cell, size, k0, k1, openness, cut-off, wet conductivity.
    links: Vec<[f64; 7]>,
}

/// A node: vapour pressure, heat capacity, d heat/dw, d store/dT and /dw, ratio; derivatives of the pressure.
#[derive(Clone, Copy)]
struct Node {
    p: [f64; 3],
    cap: f64,
    heat_w: f64,
    store_t: f64,
    store_w: f64,
    ratio: f64,
}

/// Heat and vapour with derivatives by T and w before and after.
#[derive(Clone, Copy, Default)]
struct Flux {
    q: f64,
    j: f64,
    q_by: [f64; 4],
    j_by: [f64; 4],
}

/// Derivatives of both rates of a node by the six unknowns about it.
#[derive(Clone, Default)]
pub struct Evaluated {
    x: Vec<f64>,
    rows: Vec<[[f64; 6]; 2]>,
}

fn sum(coefficients: &[f64], x: f64) -> (f64, f64) {
    coefficients.iter().rev().fold((0.0, 0.0), |(value, by), c| (value * x + c, by * x + value))
}

impl Node {
    fn rates(&self, heat: f64, held: f64) -> [f64; 2] {
        let det = self.cap * self.store_w - self.heat_w * self.store_t;
        [
            (heat * self.store_w - self.heat_w * held) / det,
            (self.cap * held - self.store_t * heat) / det,
        ]
    }
}

impl Problem {
    pub fn read(path: &str) -> Problem {
        let text = std::fs::read_to_string(path).expect("the problem reads");
        let mut numbers = text.split_whitespace().map(|w| w.parse::<f64>().expect("a number"));
        fn take<const N: usize>(from: &mut impl Iterator<Item = f64>) -> [f64; N] {
            std::array::from_fn(|_| from.next().expect("a number more"))
        }
        let [n] = take::<1>(&mut numbers);
        let n = n as usize;
        Problem {
            n,
            head: take(&mut numbers),
            vapour: take(&mut numbers),
            sorption: take(&mut numbers),
            growth: take(&mut numbers),
            air: take(&mut numbers),
            nodes: (0..n).map(|_| take(&mut numbers)).collect(),
            links: (1..n).map(|_| take(&mut numbers)).collect(),
        }
    }

    #[inline(always)]
    fn node(&self, i: usize, temp: f64, w: f64) -> Node {
        let [rv, t0, latent, c_liquid, c_vapour, .., a, b, c, temp_low] = self.vapour;
        let [scale, low, high, t_iso, q0, fall, round, _] = self.sorption;
        let [c0, c1, _, binds, at_65, pores] = self.nodes[i];
        let over = 1.0 / (temp.max(temp_low) - c);
        let sat = (a - b * over).exp();
        let sat_t = if temp >= temp_low { sat * b * over * over } else { 0.0 };
        let (ratio, liquid) = (w / at_65, c_liquid * (temp - t0));
        let cap = c0 + c1 * temp + c_liquid * w;
        if binds == 0.0 {
            let (activity, by_x) = if ratio <= 1.0 {
                let grown = 1.0 + ratio.powi(8);
                let root = grown.powf(-0.125);
                (ratio * root, root / grown)
            } else {
                let small = 1.0 / ratio;
                let grown = 1.0 + small.powi(8);
                let root = grown.powf(-0.125);
                (root, root / grown * small.powi(9))
            };
            let p = [activity * sat, activity * sat_t, by_x * sat / at_65];
            return Node { p, cap, heat_w: liquid, store_t: 0.0, store_w: 1.0, ratio };
        }
        let z = ratio / scale;
        let bend = low + high - (high - low) * z;
        let root = (bend * bend + 4.0 * low * high * z * z).sqrt();
        let phi = if bend >= 0.0 {
            2.0 * low * high * z / (root + bend)
        } else {
            (root - bend) / (2.0 * z)
        };
        let phi_z = (low + phi) * (high - phi) / (scale * root);
        let filled = 1.0 + fall * ratio;
        let (binding, warmer) = (q0 / filled, (1.0 / t_iso - 1.0 / temp) / rv);
        let loosened = (binding * warmer).exp();
        let x = phi * loosened;
        let x_t = x * binding / (rv * temp * temp);
        let x_z = phi_z * loosened - fall * x * binding * warmer / filled;
        let s = ((1.0 - x) * (1.0 - x) + 4.0 * round * x).sqrt();
        let activity = 2.0 * x / (1.0 + x + s);
        let by_x = (1.0 - activity) / s;
        let p = [activity * sat, by_x * x_t * sat + activity * sat_t, by_x * x_z * sat / at_65];
        let room = pores / (rv * temp);
        let (airborne, gas) = (room * p[0], latent + c_vapour * (temp - t0));
        let store_t = room * p[1] - airborne / temp;
        Node {
            p,
            cap: cap + store_t * gas + c_vapour * airborne,
            heat_w: liquid - binding + room * p[2] * gas,
            store_t,
            store_w: 1.0 + room * p[2],
            ratio,
        }
    }

    /// Potential and its derivative by the pressure.
    #[inline(always)]
    fn stefan(&self, p: f64, share: f64) -> (f64, f64) {
        let air = 1.0 - p / self.vapour[7];
        let held = air.max(share);
        ((held - air) / share - held.ln(), 1.0 / (self.vapour[7] * held))
    }

    #[inline(always)]
    fn transport(&self, temp: f64) -> (f64, f64) {
        let value = self.vapour[5] * sum(&self.growth, (temp / self.vapour[1]).sqrt()).0;
        (value, self.vapour[6] * value / temp)
    }

    #[inline(always)]
    fn k_air(&self, temp: f64) -> (f64, f64) {
        let [fit @ .., low, high] = &self.air;
        let held = temp.clamp(*low, *high);
        let (value, by) = sum(fit, 1e-3 * held);
        (value, if held == temp { 1e-3 * by } else { 0.0 })
    }

    #[inline(always)]
    fn flux(&self, k: usize, x: &[f64], nodes: [&Node; 2], exact: bool) -> Flux {
        let [_, t0, latent, _, c_vapour, .., _, _, _, _] = self.vapour;
        let [cell, dx, k0, k1, openness, cut_off, k_wet] = self.links[k];
        let (is_cell, [ta, tb]) = (cell != 0.0, [x[2 * k], x[2 * k + 2]]);
        let (share, open) = if is_cell { (cut_off, openness) } else { (self.vapour[8], 1.0) };
        let (mean, diff) = (0.5 * (ta + tb), ta - tb);
        let [(pot_a, by_a), (pot_b, by_b)] = nodes.map(|node| self.stefan(node.p[0], share));
        let (through, slope) = self.transport(mean);
        let (value, drop) = (through * open / dx, pot_a - pot_b);
        let gas = latent + c_vapour * (mean - t0);
        let mut f = Flux { j: value * drop, ..Flux::default() };
        f.q = f.j * gas;
        let beyond = |node: &Node| (node.ratio - 1.0).max(0.0);
        let wet = 0.5 * k_wet / dx * (beyond(nodes[0]) + beyond(nodes[1]));
        let (air, air_t) = if is_cell { (0.0, 0.0) } else { self.k_air(mean) };
        let sent = SIGMA * k0;
        f.q += match is_cell {
            true => (k0 + k1 * mean) * diff / dx + wet * diff,
            false => air / dx * diff + sent * (ta.powi(4) - tb.powi(4)),
        };
        if !exact {
            return f;
        }
        let half = 0.5 * slope * open / dx * drop;
        f.j_by = [
            half + value * by_a * nodes[0].p[1],
            value * by_a * nodes[0].p[2],
            half - value * by_b * nodes[1].p[1],
            -value * by_b * nodes[1].p[2],
        ];
        f.q_by = f.j_by.map(|by| by * gas);
        f.q_by[0] += 0.5 * c_vapour * f.j;
        f.q_by[2] += 0.5 * c_vapour * f.j;
        if is_cell {
            f.q_by[0] += (k0 + k1 * ta) / dx + wet;
            f.q_by[2] -= (k0 + k1 * tb) / dx + wet;
            for side in 0..2 {
                if nodes[side].ratio > 1.0 {
                    f.q_by[1 + 2 * side] += 0.5 * k_wet / dx * diff / self.nodes[k + side][4];
                }
            }
        } else {
            let rise = 0.5 * air_t / dx * diff;
            f.q_by[0] += air / dx + rise + 4.0 * sent * ta.powi(3);
            f.q_by[2] -= air / dx - rise + 4.0 * sent * tb.powi(3);
        }
        f
    }

    /// What enters the first node.
    fn front(&self, temp: f64, node: &Node) -> Flux {
        let [h, gas_temp, p_gas, q_rad, emissivity, surround, ..] = self.head;
        let [_, t0, latent, _, c_vapour, ..] = self.vapour;
        let (inside, by) = self.stefan(node.p[0], self.vapour[8]);
        let (outside, _) = self.stefan(p_gas, self.vapour[8]);
        let mean = 0.5 * (gas_temp + temp);
        let ((k, k_t), (through, slope)) = (self.k_air(mean), self.transport(mean));
        let value = through * h / k;
        let value_t = 0.5 * h / k * (slope - through * k_t / k);
        let (drop, gas) = (outside - inside, latent + c_vapour * (temp - t0));
        let j = value * drop;
        let sent = SIGMA * emissivity;
        let q = j * gas + h * (gas_temp - temp) + q_rad - sent * (temp.powi(4) - surround.powi(4));
        let j_by = [0.0, 0.0, value_t * drop - value * by * node.p[1], -value * by * node.p[2]];
        let mut q_by = j_by.map(|by| by * gas);
        q_by[2] += c_vapour * j - h - 4.0 * sent * temp.powi(3);
        Flux { q, j, q_by, j_by }
    }

    pub fn rhs(&self, x: &[f64], y: &mut [f64]) {
        let mut own = self.node(0, x[0], x[1]);
        let mut into = self.front(x[0], &own);
        for i in 0..self.n {
            let (mut out, mut next) = (Flux::default(), own);
            if i + 1 < self.n {
                next = self.node(i + 1, x[2 * i + 2], x[2 * i + 3]);
                out = self.flux(i, x, [&own, &next], false);
            }
            [y[2 * i], y[2 * i + 1]] = own.rates(into.q - out.q, into.j - out.j);
            (own, into) = (next, out);
        }
    }

    /// The Jacobian's rows at `x`, kept: fluxes exact; how what a node holds bends, by a difference of the node.
    pub fn evaluate(&self, x: &[f64], kept: &mut Evaluated) {
        if kept.x == x {
            return;
        }
        kept.x = x.to_vec();
        kept.rows.clear();
        let mut own = self.node(0, x[0], x[1]);
        let mut into = self.front(x[0], &own);
        for i in 0..self.n {
            let (mut out, mut next) = (Flux::default(), own);
            if i + 1 < self.n {
                next = self.node(i + 1, x[2 * i + 2], x[2 * i + 3]);
                out = self.flux(i, x, [&own, &next], true);
            }
            let [dt, dw] = own.rates(into.q - out.q, into.j - out.j);
            let (temp, w) = (x[2 * i], x[2 * i + 1]);
            let mut row = [[0.0; 6]; 2];
            for c in 0..6 {
                let by = |into: &[f64; 4], out: &[f64; 4]| {
                    let from = if c < 4 { into[c] } else { 0.0 };
                    from - if c >= 2 { out[c - 2] } else { 0.0 }
                };
                let mut by = [by(&into.q_by, &out.q_by), by(&into.j_by, &out.j_by)];
                if c == 2 || c == 3 {
                    let step = match c {
                        2 => 1e-6 * temp,
                        _ => 1e-6 * (w.abs() + 1e-3 * self.nodes[i][4]),
                    };
                    let moved = match c {
                        2 => self.node(i, temp + step, w),
                        _ => self.node(i, temp, w + step),
                    };
                    by[0] -= ((moved.cap - own.cap) * dt + (moved.heat_w - own.heat_w) * dw) / step;
                    by[1] -= ((moved.store_t - own.store_t) * dt
                        + (moved.store_w - own.store_w) * dw)
                        / step;
                }
                [row[0][c], row[1][c]] = own.rates(by[0], by[1]);
            }
            kept.rows.push(row);
            (own, into) = (next, out);
        }
    }
}

impl Evaluated {
    pub fn times(&self, v: &[f64], y: &mut [f64]) {
        for (i, row) in self.rows.iter().enumerate() {
            for side in 0..2 {
                let mut sum = 0.0;
                for c in 0..6 {
                    if let Some(v) = (2 * i + c).checked_sub(2).and_then(|at| v.get(at)) {
                        sum += row[side][c] * v;
                    }
                }
                y[2 * i + side] = sum;
            }
        }
    }
}

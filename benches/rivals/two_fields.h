/* The exported problem of two fields, temperature and content at every node, and its rates.
 * Layout of the file: benches/two_fields/mod.rs. Unknowns in turn: T0, w0, T1, w1, ... */
#ifndef TWO_FIELDS_H
#define TWO_FIELDS_H
#include <math.h>
#include <stdio.h>

#define SIGMA 5.670374419e-8
enum { MOST = 1024 };

typedef struct {
    int n;
    double h, temp_gas, p_gas, q_rad, emissivity, temp_surround, temp_start, rise, t_end;
    /* vapour */
    double rv, t0, latent, c_liquid, c_vapour, transport, power, pressure, open, a, b, c, temp_low;
    /* sorption */
    double scale, low, high, t_iso, q0, fall, round, film;
    double growth[7], air[5], air_low, air_high;
    double c0[MOST], c1[MOST], start[MOST], binds[MOST], at_65[MOST], pores[MOST];
    double cell[MOST], dx[MOST], k0[MOST], k1[MOST], openness[MOST], cut_off[MOST], k_wet[MOST];
} Problem;

static int read_row(FILE *file, int n, double *to[]) {
    for (int i = 0; i < n; i++)
        if (fscanf(file, "%lf", to[i]) != 1) return 0;
    return 1;
}

#define ROW(...) \
    do { \
        double *to[] = {__VA_ARGS__}; \
        if (!read_row(file, sizeof to / sizeof *to, to)) return 0; \
    } while (0)

static int read_problem(FILE *file, Problem *p) {
    if (!file || fscanf(file, "%d", &p->n) != 1 || p->n > MOST) return 0;
    ROW(&p->h, &p->temp_gas, &p->p_gas, &p->q_rad, &p->emissivity, &p->temp_surround,
        &p->temp_start, &p->rise, &p->t_end);
    ROW(&p->rv, &p->t0, &p->latent, &p->c_liquid, &p->c_vapour, &p->transport, &p->power,
        &p->pressure, &p->open, &p->a, &p->b, &p->c, &p->temp_low);
    ROW(&p->scale, &p->low, &p->high, &p->t_iso, &p->q0, &p->fall, &p->round, &p->film);
    for (int i = 0; i < 7; i++) ROW(&p->growth[i]);
    for (int i = 0; i < 5; i++) ROW(&p->air[i]);
    ROW(&p->air_low, &p->air_high);
    for (int i = 0; i < p->n; i++)
        ROW(&p->c0[i], &p->c1[i], &p->start[i], &p->binds[i], &p->at_65[i], &p->pores[i]);
    for (int k = 0; k + 1 < p->n; k++)
        ROW(&p->cell[k], &p->dx[k], &p->k0[k], &p->k1[k], &p->openness[k], &p->cut_off[k],
            &p->k_wet[k]);
    return 1;
}

/* A node at its T and w: vapour pressure with derivatives, heat capacity, d heat/dw, d store/dT,
 * d store/dw */
typedef struct {
    double p, p_t, p_w, cap, heat_w, store_t, store_w, ratio;
} Node;

static double saturation(const Problem *p, double T, double *slope) {
    double over = 1.0 / (fmax(T, p->temp_low) - p->c), value = exp(p->a - p->b * over);
    *slope = T >= p->temp_low ? value * p->b * over * over : 0.0;
    return value;
}

static inline Node node(const Problem *p, int i, double T, double w) {
    Node d;
    double sat_t, sat = saturation(p, T, &sat_t), liquid = p->c_liquid * (T - p->t0);
    d.ratio = w / p->at_65[i];
    d.cap = p->c0[i] + p->c1[i] * T + p->c_liquid * w;
    if (p->binds[i] == 0.0) {
        double x = d.ratio, activity, by_x;
        if (x <= 1.0) {
            double x2 = x * x, x4 = x2 * x2, grown = 1.0 + x4 * x4, root = pow(grown, -0.125);
            activity = x * root;
            by_x = root / grown;
        } else {
            double s = 1.0 / x, s2 = s * s, s4 = s2 * s2, high = s4 * s4, grown = 1.0 + high;
            activity = pow(grown, -0.125);
            by_x = activity / grown * s * high;
        }
        d.p = activity * sat;
        d.p_t = activity * sat_t;
        d.p_w = by_x * sat / p->at_65[i];
        d.heat_w = liquid;
        d.store_t = 0.0;
        d.store_w = 1.0;
        return d;
    }
    double z = d.ratio / p->scale, b = p->low + p->high - (p->high - p->low) * z;
    double root = sqrt(b * b + 4.0 * p->low * p->high * z * z);
    double phi = b >= 0.0 ? 2.0 * p->low * p->high * z / (root + b) : (root - b) / (2.0 * z);
    double phi_z = (p->low + phi) * (p->high - phi) / (p->scale * root);
    double filled = 1.0 + p->fall * d.ratio, binding = p->q0 / filled;
    double warmer = (1.0 / p->t_iso - 1.0 / T) / p->rv, loosened = exp(binding * warmer);
    double x = phi * loosened, x_t = x * binding / (p->rv * T * T);
    double x_z = phi_z * loosened - p->fall * x * binding * warmer / filled;
    double s = sqrt((1.0 - x) * (1.0 - x) + 4.0 * p->round * x), activity = 2.0 * x / (1.0 + x + s);
    double by_x = (1.0 - activity) / s;
    d.p = activity * sat;
    d.p_t = by_x * x_t * sat + activity * sat_t;
    d.p_w = by_x * x_z * sat / p->at_65[i];
    double room = p->pores[i] / (p->rv * T), airborne = room * d.p;
    double gas = p->latent + p->c_vapour * (T - p->t0);
    d.store_t = room * d.p_t - airborne / T;
    d.store_w = 1.0 + room * d.p_w;
    d.cap += d.store_t * gas + p->c_vapour * airborne;
    d.heat_w = liquid - binding + room * d.p_w * gas;
    return d;
}

/* Potential that drives vapour and its derivative by the pressure */
static inline double stefan(const Problem *p, double pressure, double cut_off, double *slope) {
    double air = 1.0 - pressure / p->pressure, held = fmax(air, cut_off);
    *slope = 1.0 / (p->pressure * held);
    return (held - air) / cut_off - log(held);
}

/* Transport through 1 m at a temperature and its derivative */
static inline double transport(const Problem *p, double T, double *slope) {
    const double *g = p->growth;
    double u2 = T / p->t0, u = sqrt(u2), u4 = u2 * u2;
    double value = p->transport * (g[0] + g[1] * u + u2 * (g[2] + g[3] * u) +
                                   u4 * (g[4] + g[5] * u + g[6] * u2));
    *slope = p->power * value / T;
    return value;
}

static inline double k_air(const Problem *p, double T, double *slope) {
    double x = 1e-3 * fmin(fmax(T, p->air_low), p->air_high), value = 0.0, by = 0.0;
    for (int i = 4; i >= 0; i--) {
        by = by * x + value;
        value = value * x + p->air[i];
    }
    *slope = T < p->air_low || T > p->air_high ? 0.0 : 1e-3 * by;
    return value;
}

/* Fluxes of a link and their derivatives by T and w before and after it */
typedef struct {
    double q, j, q_by[4], j_by[4];
} Flux;

/* `exact` asks for the derivatives */
static inline Flux link_flux(const Problem *p, int k, const double *y, const Node *a, const Node *b,
                             double pot_a, double by_a, double pot_b, double by_b, int exact) {
    Flux f = {0};
    double Ta = y[0], Tb = y[2], diff = Ta - Tb, mean = 0.5 * (Ta + Tb);
    double slope, per = (p->cell[k] != 0.0 ? p->openness[k] : 1.0) / p->dx[k];
    double D = transport(p, mean, &slope) * per, drop = pot_a - pot_b;
    double half = 0.5 * slope * per * drop;
    f.j = D * drop;
    double gas = p->latent + p->c_vapour * (mean - p->t0), warm = 0.5 * p->c_vapour * f.j;
    f.q = f.j * gas;
    if (p->cell[k] != 0.0) {
        f.q += (p->k0[k] + p->k1[k] * mean) * diff / p->dx[k];
        if (p->k_wet[k] != 0.0)
            f.q += 0.5 * p->k_wet[k] / p->dx[k] *
                   (fmax(a->ratio - 1.0, 0.0) + fmax(b->ratio - 1.0, 0.0)) * diff;
    } else {
        double unused, sent = SIGMA * p->k0[k], Ta2 = Ta * Ta, Tb2 = Tb * Tb;
        f.q += k_air(p, mean, &unused) / p->dx[k] * diff + sent * (Ta2 * Ta2 - Tb2 * Tb2);
    }
    if (!exact) return f;
    f.j_by[0] = half + D * by_a * a->p_t;
    f.j_by[1] = D * by_a * a->p_w;
    f.j_by[2] = half - D * by_b * b->p_t;
    f.j_by[3] = -D * by_b * b->p_w;
    for (int i = 0; i < 4; i++) f.q_by[i] = f.j_by[i] * gas + (i % 2 ? 0.0 : warm);
    if (p->cell[k] != 0.0) {
        f.q_by[0] += (p->k0[k] + p->k1[k] * Ta) / p->dx[k];
        f.q_by[2] -= (p->k0[k] + p->k1[k] * Tb) / p->dx[k];
        if (p->k_wet[k] != 0.0) {
            double wet = 0.5 * p->k_wet[k] / p->dx[k];
            double film = wet * (fmax(a->ratio - 1.0, 0.0) + fmax(b->ratio - 1.0, 0.0));
            f.q_by[0] += film;
            f.q_by[2] -= film;
            if (a->ratio > 1.0) f.q_by[1] += wet * diff / p->at_65[k];
            if (b->ratio > 1.0) f.q_by[3] += wet * diff / p->at_65[k + 1];
        }
        return f;
    }
    double air_t, air = k_air(p, mean, &air_t) / p->dx[k], sent = SIGMA * p->k0[k];
    double rise = 0.5 * air_t / p->dx[k] * diff;
    f.q_by[0] += air + rise + 4.0 * sent * Ta * Ta * Ta;
    f.q_by[2] -= air - rise + 4.0 * sent * Tb * Tb * Tb;
    return f;
}

/* What enters the first node; derivatives in `by` of a link's after side */
static inline Flux front(const Problem *p, const double *y, const Node *a) {
    Flux f = {0};
    double T = y[0], by, pot = stefan(p, a->p, p->open, &by), out_by;
    double outside = stefan(p, p->p_gas, p->open, &out_by), mean = 0.5 * (p->temp_gas + T);
    double k_t, k = k_air(p, mean, &k_t), slope, through = transport(p, mean, &slope);
    double value = through * p->h / k, value_t = 0.5 * p->h / k * (slope - through * k_t / k);
    double drop = outside - pot, gas = p->latent + p->c_vapour * (T - p->t0);
    f.j = value * drop;
    f.j_by[0] = f.j_by[1] = f.q_by[0] = f.q_by[1] = 0.0;
    f.j_by[2] = value_t * drop - value * by * a->p_t;
    f.j_by[3] = -value * by * a->p_w;
    double T2 = T * T, S2 = p->temp_surround * p->temp_surround, sent = SIGMA * p->emissivity;
    f.q = f.j * gas + p->h * (p->temp_gas - T) + p->q_rad - sent * (T2 * T2 - S2 * S2);
    f.q_by[2] = f.j_by[2] * gas + p->c_vapour * f.j - p->h - 4.0 * sent * T2 * T;
    f.q_by[3] = f.j_by[3] * gas;
    return f;
}

/* Nodes, and the flux into each (the first: through the face) */
static inline void evaluate(const Problem *p, const double *y, Node *nodes, Flux *into, int exact) {
    double pot_before = 0.0, by_before = 0.0;
    nodes[0] = node(p, 0, y[0], y[1]);
    into[0] = front(p, y, &nodes[0]);
    for (int k = 0; k + 1 < p->n; k++) {
        double cut_off = p->cell[k] != 0.0 ? p->cut_off[k] : p->open, pot, by;
        /* within a slab the potential of the node before is known from the link before */
        if (k == 0 || p->cell[k] != p->cell[k - 1] || p->cut_off[k] != p->cut_off[k - 1])
            pot_before = stefan(p, nodes[k].p, cut_off, &by_before);
        nodes[k + 1] = node(p, k + 1, y[2 * k + 2], y[2 * k + 3]);
        pot = stefan(p, nodes[k + 1].p, cut_off, &by);
        into[k + 1] = link_flux(p, k, y + 2 * k, &nodes[k], &nodes[k + 1], pot_before, by_before,
                                pot, by, exact);
        pot_before = pot;
        by_before = by;
    }
}

/* Rates of T and w from those of heat and of all that is held */
static inline void solve_node(const Node *d, double heat, double held, double *dT, double *dw) {
    double det = d->cap * d->store_w - d->heat_w * d->store_t;
    *dT = (heat * d->store_w - d->heat_w * held) / det;
    *dw = (d->cap * held - d->store_t * heat) / det;
}

static inline void rates(const Problem *p, const double *y, double *out) {
    Node nodes[MOST];
    Flux into[MOST];
    evaluate(p, y, nodes, into, 0);
    for (int i = 0; i < p->n; i++) {
        int last = i + 1 == p->n;
        double heat = into[i].q - (last ? 0.0 : into[i + 1].q);
        double held = into[i].j - (last ? 0.0 : into[i + 1].j);
        solve_node(&nodes[i], heat, held, &out[2 * i], &out[2 * i + 1]);
    }
}

/* Jacobian, entry by entry through `put(row, column, value)`: fluxes exact; how what a node holds bends, by
 * a difference of the node alone */
#define JACOBIAN(p, y, put) \
    do { \
        Node nodes_[MOST]; \
        Flux into_[MOST + 1]; \
        evaluate(p, y, nodes_, into_, 1); \
        for (int i = 0; i < (p)->n; i++) { \
            int last_ = i + 1 == (p)->n; \
            const Flux *a_ = &into_[i], *b_ = last_ ? NULL : &into_[i + 1]; \
            double heat_ = a_->q - (last_ ? 0.0 : b_->q), held_ = a_->j - (last_ ? 0.0 : b_->j); \
            double dT_, dw_, x_, v_; \
            solve_node(&nodes_[i], heat_, held_, &dT_, &dw_); \
            for (int c = 0; c < 6; c++) { \
                double by_q = (c < 4 ? a_->q_by[c] : 0.0) - (c < 2 || last_ ? 0.0 : b_->q_by[c - 2]); \
                double by_j = (c < 4 ? a_->j_by[c] : 0.0) - (c < 2 || last_ ? 0.0 : b_->j_by[c - 2]); \
                if (c == 2 || c == 3) { \
                    double T_ = (y)[2 * i], w_ = (y)[2 * i + 1]; \
                    double step_ = c == 2 ? 1e-6 * T_ : 1e-6 * (fabs(w_) + 1e-3 * (p)->at_65[i]); \
                    Node m_ = node(p, i, T_ + (c == 2 ? step_ : 0.0), w_ + (c == 3 ? step_ : 0.0)); \
                    by_q -= ((m_.cap - nodes_[i].cap) * dT_ + (m_.heat_w - nodes_[i].heat_w) * dw_) / step_; \
                    by_j -= ((m_.store_t - nodes_[i].store_t) * dT_ + \
                             (m_.store_w - nodes_[i].store_w) * dw_) / step_; \
                } \
                solve_node(&nodes_[i], by_q, by_j, &x_, &v_); \
                int column_ = 2 * i - 2 + c; \
                if (column_ >= 0 && column_ < 2 * (p)->n) { \
                    put(2 * i, column_, x_); \
                    put(2 * i + 1, column_, v_); \
                } \
            } \
        } \
    } while (0)

#endif

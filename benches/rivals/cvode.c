/* The exported three-ply problem by SUNDIALS' CVODE, BDF with the banded direct solver.
 *
 * usage: cvode PROBLEM exact|difference REPEATS
 * prints one line a tolerance: rtol, time to the rise [s], steps, best wall time of a solve [us]
 */
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sundials/sundials_config.h>
#include <sunlinsol/sunlinsol_band.h>
#include <sunmatrix/sunmatrix_band.h>
#include <time.h>

#define SIGMA 5.670374419e-8
enum { MOST = 4096 };

/* k = k0 + k1 T and rho_cp = c0 + c1 T in each cell; layout in benches/against.rs */
typedef struct {
    int n;
    double h, temp_gas, q_rad, emissivity, temp_surround, cap_disc, temp_start, rise, t_end;
    double dx[MOST], k0[MOST], k1[MOST], c0[MOST], c1[MOST];
} Problem;

static int rates(const Problem *p, const double *T, double *F, double *C) {
    int n = p->n;
    double face = T[0], sent = p->emissivity * SIGMA;
    for (int i = 0; i <= n; i++) F[i] = C[i] = 0.0;
    F[0] = p->h * (p->temp_gas - face) + p->q_rad -
           sent * (face * face * face * face - pow(p->temp_surround, 4));
    C[n] = p->cap_disc;
    for (int c = 0; c < n; c++) {
        double a = T[c], b = T[c + 1], half = 0.5 * p->dx[c];
        double q = (p->k0[c] + 0.5 * p->k1[c] * (a + b)) * (a - b) / p->dx[c];
        F[c] -= q;
        F[c + 1] += q;
        C[c] += half * (p->c0[c] + p->c1[c] * a);
        C[c + 1] += half * (p->c0[c] + p->c1[c] * b);
    }
    return 0;
}

static int rhs(realtype t, N_Vector y, N_Vector ydot, void *user) {
    const Problem *p = user;
    double C[MOST + 1];
    (void)t;
    double *out = N_VGetArrayPointer(ydot);
    rates(p, N_VGetArrayPointer(y), out, C);
    for (int i = 0; i <= p->n; i++) out[i] /= C[i];
    return 0;
}

static int jacobian(realtype t, N_Vector y, N_Vector fy, SUNMatrix J, void *user, N_Vector a,
                    N_Vector b, N_Vector d) {
    const Problem *p = user;
    double F[MOST + 1], C[MOST + 1], D[MOST + 1], S[MOST + 1], L[MOST + 1], U[MOST + 1];
    const double *T = N_VGetArrayPointer(y);
    int n = p->n;
    (void)t; (void)fy; (void)a; (void)b; (void)d;
    rates(p, T, F, C);
    for (int i = 0; i <= n; i++) D[i] = S[i] = L[i] = U[i] = 0.0;
    D[0] = -p->h - 4.0 * p->emissivity * SIGMA * T[0] * T[0] * T[0];
    for (int c = 0; c < n; c++) {
        double half = 0.5 * p->dx[c];
        double before = (p->k0[c] + p->k1[c] * T[c]) / p->dx[c];
        double after = (p->k0[c] + p->k1[c] * T[c + 1]) / p->dx[c];
        D[c] -= before;
        U[c] = after;
        L[c + 1] = before;
        D[c + 1] -= after;
        S[c] += half * p->c1[c];
        S[c + 1] += half * p->c1[c];
    }
    for (int i = 0; i <= n; i++) {
        SM_ELEMENT_B(J, i, i) = (D[i] - F[i] * S[i] / C[i]) / C[i];
        if (i > 0) SM_ELEMENT_B(J, i, i - 1) = L[i] / C[i];
        if (i < n) SM_ELEMENT_B(J, i, i + 1) = U[i] / C[i];
    }
    return 0;
}

static int over(realtype t, N_Vector y, realtype *g, void *user) {
    const Problem *p = user;
    (void)t;
    g[0] = N_VGetArrayPointer(y)[p->n] - p->temp_start - p->rise;
    return 0;
}

static int solve(Problem *p, int exact, double rtol, double *t_rise, long *steps) {
    SUNContext context;
    SUNContext_Create(NULL, &context);
    int size = p->n + 1;
    N_Vector y = N_VNew_Serial(size, context);
    N_VConst(p->temp_start, y);
    void *cv = CVodeCreate(CV_BDF, context);
    CVodeInit(cv, rhs, 0.0, y);
    CVodeSStolerances(cv, rtol, 1e-6);
    CVodeSetUserData(cv, p);
    CVodeSetMaxNumSteps(cv, 100000);
    SUNMatrix J = SUNBandMatrix(size, 1, 1, context);
    SUNLinearSolver band = SUNLinSol_Band(y, J, context);
    CVodeSetLinearSolver(cv, band, J);
    if (exact) CVodeSetJacFn(cv, jacobian);
    CVodeRootInit(cv, 1, over);
    int flag = CVode(cv, p->t_end, y, t_rise, CV_NORMAL);
    CVodeGetNumSteps(cv, steps);
    CVodeFree(&cv);
    SUNLinSolFree(band);
    SUNMatDestroy(J);
    N_VDestroy(y);
    SUNContext_Free(&context);
    return flag == CV_ROOT_RETURN;
}

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return t.tv_sec + 1e-9 * t.tv_nsec;
}

static Problem problem;

int main(int argc, char **argv) {
    Problem *p = &problem;
    FILE *file = argc == 4 ? fopen(argv[1], "r") : NULL;
    if (!file || fscanf(file, "%d %lf %lf %lf %lf %lf %lf %lf %lf %lf", &p->n, &p->h, &p->temp_gas,
                        &p->q_rad, &p->emissivity, &p->temp_surround, &p->cap_disc, &p->temp_start,
                        &p->rise, &p->t_end) != 10 || p->n > MOST)
        return fprintf(stderr, "usage: cvode PROBLEM exact|difference REPEATS\n"), 2;
    for (int c = 0; c < p->n; c++)
        if (fscanf(file, "%lf %lf %lf %lf %lf", &p->dx[c], &p->k0[c], &p->k1[c], &p->c0[c],
                   &p->c1[c]) != 5)
            return fprintf(stderr, "cell %d is not there\n", c), 2;
    int exact = strcmp(argv[2], "exact") == 0, repeats = atoi(argv[3]);
    double rtols[] = {3e-3, 1e-3, 5e-4, 3e-4, 2e-4, 1e-4, 5e-5, 3e-5, 1e-5, 1e-6, 1e-11};
    printf("# CVODE %s\n", SUNDIALS_VERSION);
    for (unsigned r = 0; r < sizeof rtols / sizeof *rtols; r++) {
        double best = INFINITY, t = 0.0;
        long steps = 0;
        int fine = 1;
        for (int k = 0; k < (rtols[r] < 1e-6 ? 1 : repeats) && fine; k++) {
            double start = now();
            fine = solve(p, exact, rtols[r], &t, &steps);
            best = fmin(best, now() - start);
        }
        if (fine) printf("%g %.12g %ld %.3f\n", rtols[r], t, steps, 1e6 * best);
    }
    return 0;
}

/* The exported problem of two fields by SUNDIALS' CVODE, BDF with the banded direct solver.
 *
 * usage: cvode_two_fields PROBLEM exact|difference REPEATS
 * prints, for each of four errors allowed of a content, one line a tolerance: rtol, time to the rise [s],
 * steps, least processor time of a solve [us]
 */
#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <stdlib.h>
#include <string.h>
#include <sundials/sundials_config.h>
#include <sunlinsol/sunlinsol_band.h>
#include <sunmatrix/sunmatrix_band.h>
#include <time.h>

#include "two_fields.h"

static int rhs(realtype t, N_Vector y, N_Vector ydot, void *user) {
    (void)t;
    rates(user, N_VGetArrayPointer(y), N_VGetArrayPointer(ydot));
    return 0;
}

static int jacobian(realtype t, N_Vector y, N_Vector fy, SUNMatrix J, void *user, N_Vector a,
                    N_Vector b, N_Vector d) {
    const Problem *p = user;
    (void)t; (void)fy; (void)a; (void)b; (void)d;
#define PUT(row, column, value) SM_ELEMENT_B(J, row, column) = value
    JACOBIAN(p, N_VGetArrayPointer(y), PUT);
    return 0;
}

static int over(realtype t, N_Vector y, realtype *g, void *user) {
    const Problem *p = user;
    (void)t;
    g[0] = N_VGetArrayPointer(y)[2 * p->n - 2] - p->temp_start - p->rise;
    return 0;
}

/* `share` of rtol and of what a node binds at 65 % is the error allowed beside rtol of a content itself */
static int solve(Problem *p, int exact, double rtol, double share, double *t_rise, long *steps) {
    SUNContext context;
    SUNContext_Create(NULL, &context);
    int size = 2 * p->n;
    N_Vector y = N_VNew_Serial(size, context), atol = N_VNew_Serial(size, context);
    for (int i = 0; i < p->n; i++) {
        N_VGetArrayPointer(y)[2 * i] = p->temp_start;
        N_VGetArrayPointer(y)[2 * i + 1] = p->start[i];
        N_VGetArrayPointer(atol)[2 * i] = 1e-6;
        N_VGetArrayPointer(atol)[2 * i + 1] = share * rtol * p->at_65[i];
    }
    void *cv = CVodeCreate(CV_BDF, context);
    CVodeInit(cv, rhs, 0.0, y);
    CVodeSVtolerances(cv, rtol, atol);
    CVodeSetUserData(cv, p);
    CVodeSetMaxNumSteps(cv, 20000);
    SUNMatrix J = SUNBandMatrix(size, 3, 3, context);
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
    N_VDestroy(atol);
    SUNContext_Free(&context);
    return flag == CV_ROOT_RETURN;
}

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return t.tv_sec + 1e-9 * t.tv_nsec;
}

static Problem problem;

int main(int argc, char **argv) {
    Problem *p = &problem;
    if (argc != 4 || !read_problem(fopen(argv[1], "r"), p))
        return fprintf(stderr, "usage: cvode_two_fields PROBLEM exact|difference REPEATS\n"), 2;
    int exact = strcmp(argv[2], "exact") == 0, repeats = atoi(argv[3]);
    double rtols[] = {3e-2, 1e-2, 3e-3, 1e-3, 5e-4, 3e-4, 2e-4, 1e-4, 5e-5, 1e-5, 1e-6, 1e-11};
    double shares[] = {1e-1, 1e-2, 1e-3, 1e-4};
    char *names[] = {"loose", "middling", "strict", "strictest"};
    printf("# CVODE %s\n", SUNDIALS_VERSION);
    for (unsigned s = 0; s < sizeof shares / sizeof *shares; s++) {
        printf("# %s\n", names[s]);
        for (unsigned r = 0; r < sizeof rtols / sizeof *rtols; r++) {
            double best = INFINITY, t = 0.0;
            long steps = 0;
            int fine = 1;
            for (int k = 0; k < (rtols[r] < 1e-4 ? 1 : repeats) && fine; k++) {
                double start = now();
                fine = solve(p, exact, rtols[r], shares[s], &t, &steps);
                best = fmin(best, now() - start);
            }
            if (fine) printf("%g %.12g %ld %.3f\n", rtols[r], t, steps, 1e6 * best);
        }
    }
    return 0;
}

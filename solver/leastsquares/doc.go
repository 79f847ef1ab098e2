// Package leastsquares solves constrained least-squares problems and proves its
// answers.
//
//   - Solve minimises ||A x - b||^2 over bounds, linear equalities and linear
//     inequalities by a primal active-set method on orthogonal factors. Answers
//     at a bound equal it exactly; Solution carries all multipliers, and
//     Problem.CheckKKT recomputes the optimality conditions from the input.
//     Infeasible problems come with a Farkas certificate and an irreducible set
//     of conflicting constraints. Workspace is the same method without
//     allocation, for many small problems.
//   - SolveNonlinear minimises weighted squared distances of smooth functions
//     from numbers or bands, with limits on the same functions, by Gauss-Newton
//     steps, each solved by the linear method.
//   - SolveGrid finds the best point of an integer grid by branch and bound on
//     convex relaxations. Its bounds are dual ones, valid whatever the precision
//     of the relaxations (Problem.DualBound).
//
// Matrices are dense; sizes up to some hundred variables are meant. Everything
// is deterministic: the same input gives the same answer. The package does no
// global search for nonlinear problems: SolveNonlinear finds a local optimum.
package leastsquares

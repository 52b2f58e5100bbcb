// Package audit reckons a catch-can test: depth, precipitation rate, distribution
// uniformity and Christiansen's coefficient by the published forms, and which heads are
// at fault, from what each can caught and what each head would bring it if it were as
// drawn. It knows no plan.
//
// Sources, by the numbers the comments give:
//
//  1. J. E. Christiansen, Irrigation by Sprinkling, University of California Bulletin
//     670, 1942: the coefficient of uniformity.
//  2. Irrigation Association, Landscape Irrigation Auditor, blank worksheets: the low
//     quarter and 3.66 × ml / (minutes × in²).
//  3. California Agricultural Technology Institute, Irrigation Notes 880106, 941102
//     (CU) and 880802 (scheduling coefficient).
//  4. R. D. von Bernuth and B. Mecham, Defining the Run Time Multiplier: four sprinklers
//     whose water falls off in a straight line.
//  5. C. L. Lawson and R. J. Hanson, Solving Least Squares Problems, 1974, chapter 23:
//     least squares without negative unknowns (from memory).
package audit

// Package audit reckons a catch-can test: depth, precipitation rate, distribution
// uniformity and Christiansen's coefficient by the published forms, and which heads are
// at fault, from what each can caught and what each head would bring it if it were as
// drawn. It knows no plan.
package audit

// Package exchange holds every exported value type of the library to the exchange
// form, as tests: it survives JSON unchanged, and nothing that is missing, unknown or
// null where something must be is read as a zero. It has no code of its own outside
// those tests.
//
// A type is registered in the file of its package, units_test.go for units, with a
// generator and, where its JSON does not say all, an equality. A type that is no
// value goes into that file's exceptions with the reason. testdata/notyet.txt lists
// the types that nobody has registered yet; it only shrinks.
package exchange

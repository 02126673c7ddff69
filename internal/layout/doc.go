// Package layout holds the shape of the tree as tests: which folders stand at its
// top, which package may import which, which modules a user of the library pulls in with it, and
// that the links of its pages lead somewhere. It has no code of its own outside those tests.
package layout

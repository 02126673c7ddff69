// Package api holds, as a test, what the library promised: every exported declaration of a
// release stands in testdata, one a line, and is still there, word for word, unless
// testdata/broken.txt says which is not and why.
//
// A declaration that is new is no fault. Comments may change, and the names of
// parameters but those of generic functions; a method
// more in an interface that users implement is another interface, and so a fault.
package api

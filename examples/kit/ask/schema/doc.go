// Package schema says what the questions of package ask and their answers look like, as a JSON
// Schema of draft 2020-12 and as declarations for TypeScript. Both are made from the Go types
// and the forms that these have as text, and the comments from their source.
//
// A list that is empty is written []. What may be null says so: an optional value, an interval
// that is empty, and a list of which null means something else than an empty one.
package schema

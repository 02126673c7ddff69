// Package whole holds every question that the library and the kit answer: those of package ask,
// and those about a whole job, which take a reader of job files and a writer of records.
package whole

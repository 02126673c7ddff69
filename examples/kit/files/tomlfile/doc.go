// Package tomlfile reads TOML files that people write by hand, strictly. A key
// that the program does not know is an error that offers the nearest one it
// does know, and every error names the file and the line.
//
// Decode fills a struct of strings, lists and tables. What the strings mean is
// the caller's to find out; when one is wrong, Places.Errorf or Places.Wrap
// make the error, from the path to the value ("bearings[1].readings[0].bore").
package tomlfile

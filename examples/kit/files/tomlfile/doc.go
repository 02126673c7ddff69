// Package tomlfile reads TOML files that people write by hand, strictly. A key
// that the program does not know is an error that offers the nearest one it
// does know, and every error names the file and the line.
//
// Load reads a file or standard input. Decode fills a struct of texts, lists and tables. What the texts mean is
// the caller's to find out; when one is wrong, Places.Errorf or Places.Wrap
// make the error, from the path to the value ("bearings[1].readings[0].bore"), and
// Places.All puts them together with those of Decode, so that everything is said at once.
package tomlfile

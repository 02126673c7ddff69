// Package bench is a job as somebody works on it at the bench, one reading after another: what is to be
// measured where and with what, what a text would lead to before it is stored, and the job's file with
// that one text changed in it.
//
// It knows no files, no network and no clock, and computes nothing: package job says what is known, and
// tomlfile changes the text. The same code runs in the program that keeps a file and, as WebAssembly,
// in the page. What people see is made here as HTML that is escaped as it is made, so that no text of a job
// file is anything but text.
//
//	out, change, err := bench.Set(source, bench.Edit{Key: "reading", Line: "main journal", Place: "3", Was: "?", Now: "58.360 mm"})
//	back, _, err := bench.Undo(bench.Source{Name: source.Name, Text: out}, change)
//
// Every byte that is not the reading's stays, comments and ends of lines among them. A change whose result
// is no job is refused with the words of the job's reader, and changes nothing.
package bench

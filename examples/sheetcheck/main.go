// Sheetcheck recomputes a shop's own spreadsheet exactly and says which cells are
// wrong, what would be right, and which mistake gives the value found.
//
//	sheetcheck [options] FILE                   check a .xlsx, .xlsm, .ods, .csv or .tsv file
//	sheetcheck [options] -map MAP.toml FILE     by a map that says what stands where
//
// Without a map the program first shows what it takes the sheet to be, and what of it was not
// understood; -save writes that as a map, to be corrected. -copy writes a copy of a workbook with
// what was found in it: cells coloured and commented, a first sheet of links, all else as it was.
//
// The exit status is 0 if the sheet was checked; 1, only with -strict, if there are
// findings or nothing was there to compare; 2 if the input is wrong. The file itself is
// never changed.
package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"
	"time"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/files/wholefile"
	"example.com/closefit/examples/kit/record"
	"example.com/closefit/examples/kit/version"
	"example.com/closefit/examples/sheetcheck/annotate"
	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/report"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/understand"
)

// The exit statuses.
const (
	checked  = 0
	findings = 1
	badInput = 2
)

// memory is what the garbage collector is told to stay under.
const memory = 200 << 20

func main() {
	debug.SetMemoryLimit(memory)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	status := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(status)
}

// run is the program with its surroundings given, for tests.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	status, err := sheetcheck(ctx, args, stdout, stderr)
	if err != nil {
		fmt.Fprintf(stderr, "sheetcheck: %s\n", strings.ReplaceAll(record.Printable(err.Error()), "\n", "\nsheetcheck: "))
	}
	return status
}

// options are what the command line asks for.
type options struct {
	mapFile string
	save    string
	format  record.Format
	output  string
	copy    string
	strict  bool
	dialect sheet.Dialect // of a text file, as far as the command line says
	file    string
	shown   bool // the version is asked for
}

func sheetcheck(ctx context.Context, args []string, stdout, stderr io.Writer) (status int, err error) {
	o, err := parse(args, stderr)
	if errors.Is(err, flag.ErrHelp) {
		return checked, nil
	}
	if err != nil {
		return badInput, err
	}
	if o.shown {
		_, err := io.WriteString(stdout, version.Line("sheetcheck"))
		if err != nil {
			return badInput, err
		}
		return checked, nil
	}
	result, understanding, failed, err := examine(ctx, o, stderr)
	if err != nil {
		return badInput, err
	}
	var text bytes.Buffer
	if err := report.Write(&text, o.format, result, understanding); err != nil {
		return badInput, err
	}
	if err := write(o.output, text.Bytes(), stdout); err != nil {
		return badInput, err
	}
	if failed != nil {
		return badInput, failed
	}
	if o.strict && (len(result.Findings)+len(result.Latent) > 0 || result.Claims == 0) {
		return findings, nil
	}
	return checked, nil
}

// examine checks the file, by a map or by what it is understood to be, and writes the map and
// the copy with what was found, if they are wanted. The understanding is nil with a map. That the
// copy cannot be written is not the end of the report: failed says it.
func examine(ctx context.Context, o options, stderr io.Writer) (result *check.Result, u *understand.Understanding, failed, err error) {
	m, places := &mapfile.Map{}, (*tomlfile.Places)(nil)
	if o.mapFile != "" {
		src, err := os.ReadFile(o.mapFile)
		if err != nil {
			return nil, nil, nil, err
		}
		if m, places, err = mapfile.Read(o.mapFile, src); err != nil {
			return nil, nil, nil, err
		}
	}
	f, err := open(o, m.CSV.Dialect())
	if err != nil {
		return nil, nil, nil, err
	}
	defer f.Close()
	var options check.Options
	if o.mapFile == "" {
		if u, err = understood(ctx, f, &options); err != nil {
			return nil, nil, nil, err
		}
		m = u.Map
		if text, ok := f.(*sheet.Text); ok {
			d := text.Dialect()
			m.CSV = mapfile.CSV{Separator: string(d.Separator), Decimal: string(d.Decimal)}
		}
	}
	var alone *besides // what the file is without its map
	var note string
	var notes []string
	if o.mapFile != "" {
		if alone, note, err = besideMap(ctx, o, f); err != nil {
			return nil, nil, nil, err
		}
		if alone != nil {
			if _, text := f.(*sheet.Text); !text { // which streams by
				options.Book, options.Values = alone.book, alone.Evaluator()
			}
			options.Latent, notes = undisputed(m, alone.book, alone.Understanding)
		}
		if note != "" {
			notes = append(notes, note)
		}
	}
	bar := newProgress(stderr)
	options.Progress = bar.rows
	result, err = check.Run(ctx, m, places, f, options)
	bar.finish()
	if err != nil {
		return nil, nil, nil, err
	}
	result.File = filepath.Base(o.file)
	if book, ok := f.(*sheet.Workbook); ok {
		for _, name := range book.Own() {
			result.Notes = append(result.Notes, fmt.Sprintf("sheet %s is sheetcheck's own, from a copy that it wrote, and is passed over", name))
		}
	}
	result.Notes = append(result.Notes, notes...)
	if alone != nil {
		unnamed(result, m, alone)
	}
	if u != nil {
		uncovered(result, u)
	}
	if o.save != "" {
		if err := save(o, m); err != nil {
			return nil, nil, nil, err
		}
	}
	return result, u, writeCopy(ctx, o, f, result, stderr), nil
}

// A sheet of values of more than longRows is understood by its first headRows; the others are held
// against what was understood as they stream by.
const (
	longRows = 20_000
	headRows = 5000
)

// understood reads what a file holds, and sets the options to check it.
func understood(ctx context.Context, f sheet.File, o *check.Options) (*understand.Understanding, error) {
	head, long, err := sheet.Head(ctx, f, headRows, longRows)
	if err != nil {
		return nil, err
	}
	if long {
		u, err := understand.Read(ctx, head)
		if err != nil {
			return nil, err
		}
		if beyond, ok := u.Extend(); ok {
			o.Beyond = beyond
			return u, nil
		}
	}
	book, err := f.Load(ctx)
	if err != nil {
		return nil, tooLarge(err)
	}
	u, err := understand.Read(ctx, book)
	if err != nil {
		return nil, err
	}
	o.Book, o.Values, o.Latent = book, u.Evaluator(), u.Latent()
	return u, nil
}

// uncovered adds to the coverage what was not understood, with the reason.
func uncovered(result *check.Result, u *understand.Understanding) {
	type cell struct {
		sheet string
		at    sheet.Place
	}
	why := map[cell]string{}
	for _, x := range u.Unknown {
		why[cell{x.Sheet, x.At}] = "not understood: " + x.Why
	}
	for i, x := range result.Unchecked {
		at := cell{x.Sheet, x.At}
		if text := why[at]; text != "" {
			result.Unchecked[i].Why = text
			delete(why, at)
		}
	}
	for _, x := range u.Unknown { // words without a formula
		at := cell{x.Sheet, x.At}
		if text := why[at]; text != "" {
			result.Coverage.Cells++
			result.Unchecked = append(result.Unchecked, check.Unchecked{Sheet: x.Sheet, At: x.At, Why: text})
			delete(why, at)
		}
	}
	for _, v := range u.Values {
		result.Coverage.Values += v.Count
		result.Unlooked = append(result.Unlooked, check.Unlooked{Sheet: v.Sheet, Cells: v.Cells, Count: v.Count, Why: v.Why})
	}
}

// tooLarge says what to do about a file that is too large to be held whole.
func tooLarge(err error) error {
	if errors.Is(err, sheet.ErrBound) {
		return fmt.Errorf("%w; a file whose first rows do not tell what the others are is understood as a whole, so write -map MAP.toml for one that is larger", err)
	}
	return err
}

// save writes the map of what was understood to a file that is not there yet.
func save(o options, m *mapfile.Map) error {
	if len(m.Tables) == 0 && len(m.Cells) == 0 {
		return fmt.Errorf("nothing was understood of %s, so there is no map to save", o.file)
	}
	about := fmt.Sprintf("# What %s is taken to be. Correct what is wrong; sheetcheck -map reads it again.\n", strconv.Quote(filepath.Base(o.file)))
	return wholefile.Create(o.save, []byte(about+m.Text()))
}

// writeCopy writes the copy with what was found, if one is wanted.
func writeCopy(ctx context.Context, o options, f sheet.File, result *check.Result, stderr io.Writer) error {
	if o.copy == "" {
		return nil
	}
	var notes []string
	err := wholefile.CreateBy(o.copy, func(out io.Writer) (err error) {
		notes, err = annotate.Copy(ctx, out, f.(*sheet.Workbook), report.Answer(result), time.Now())
		return err
	})
	for _, n := range notes {
		fmt.Fprintf(stderr, "sheetcheck: %s: %s\n", record.Printable(o.copy), record.Printable(n))
	}
	return err
}

// open opens the file. A text file is read as the command line says, else as the map says,
// else as the text shows.
func open(o options, said sheet.Dialect) (sheet.File, error) {
	said.Separator = cmp.Or(o.dialect.Separator, said.Separator)
	said.Decimal = cmp.Or(o.dialect.Decimal, said.Decimal)
	f, err := sheet.Open(o.file, said, sheet.DefaultBounds())
	if errors.Is(err, sheet.ErrUnclear) {
		return nil, fmt.Errorf("%w, with -separator and -decimal or under [csv] in the map", err)
	}
	return f, err
}

// parse reads the command line.
func parse(args []string, stderr io.Writer) (o options, err error) {
	flags := flag.NewFlagSet("sheetcheck", flag.ContinueOnError)
	flags.SetOutput(io.Discard) // errors are said once, by run
	format := flags.String("format", "text", "`form` of the report: text, json or html")
	flags.StringVar(&o.mapFile, "map", "", "the `MAP.toml` that says what stands where; without one, that is found from the sheet")
	flags.StringVar(&o.save, "save", "", "write what the sheet is taken to be to the new `MAP.toml`, with the reason for each line")
	flags.StringVar(&o.output, "o", "", "write the report to `FILE`, whole or not at all; else to standard output")
	flags.StringVar(&o.copy, "copy", "", "write a copy of the workbook to the new `FILE`, with a first sheet of links to what was found, and the cells coloured and commented; all else stays")
	flags.BoolVar(&o.strict, "strict", false, "exit with status 1 if there are findings, also of faults that do not show yet, or nothing was compared")
	flags.BoolVar(&o.shown, "version", false, version.Usage)
	flags.Func("separator", "the `MARK` between the cells of a text file, if the file does not show it: , ; | or tab", func(text string) error {
		mark, ok := map[string]byte{",": ',', ";": ';', "|": '|', "tab": '\t', "\t": '\t'}[text]
		if !ok {
			return errors.New("write , ; | or tab")
		}
		o.dialect.Separator = mark
		return nil
	})
	flags.Func("decimal", "the decimal `MARK` of a text file, if the file does not show it: . or ,", func(text string) error {
		if text != "." && text != "," {
			return errors.New("write . or ,")
		}
		o.dialect.Decimal = text[0]
		return nil
	})
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			usage(flags, stderr)
			return o, err
		}
		return o, fmt.Errorf("%w; -help lists the options", err)
	}
	if o.shown {
		return o, nil
	}
	if o.format, err = record.ParseFormat(*format); err != nil {
		return o, err
	}
	if flags.NArg() != 1 {
		return o, fmt.Errorf("%d files to check; name one, after the options", flags.NArg())
	}
	o.file = flags.Arg(0)
	switch {
	case o.save != "" && o.mapFile != "":
		return o, errors.New("-save writes the map of what is understood without -map; leave one of them out")
	case o.save != "" && exists(o.save):
		return o, fmt.Errorf("%s is there already; name a new file for the map", o.save)
	case o.save != "" && (filepath.Clean(o.save) == filepath.Clean(o.output) || filepath.Clean(o.save) == filepath.Clean(o.copy)):
		return o, fmt.Errorf("two things go to %s; name a file for each", o.save)
	case o.copy != "" && wholefile.Same(o.copy, o.file), o.output != "" && wholefile.Same(o.output, o.file):
		return o, fmt.Errorf("%s would be overwritten; name a new file", o.file)
	case o.mapFile != "" && (wholefile.Same(o.copy, o.mapFile) || wholefile.Same(o.output, o.mapFile)):
		return o, fmt.Errorf("%s would be overwritten; name a new file", o.mapFile)
	case o.copy != "" && exists(o.copy):
		return o, fmt.Errorf("%s is there already; name a new file for the copy", o.copy)
	case o.output != "" && filepath.Clean(o.output) == filepath.Clean(o.copy):
		return o, errors.New("the report and the copy go to one file; name two")
	case o.copy != "":
		return o, copied(o.file, o.copy)
	}
	return o, nil
}

// copied reports by an error why a file has no copy, or none of that name.
func copied(file, name string) error {
	ending := strings.ToLower(filepath.Ext(file))
	switch {
	case ending != ".xlsx" && ending != ".xlsm":
		return fmt.Errorf("%s: only .xlsx and .xlsm workbooks have a copy with what was found; save the sheet as .xlsx in a spreadsheet program and check that, or write the report with -format html -o FILE", file)
	case strings.ToLower(filepath.Ext(name)) != ending:
		return fmt.Errorf("%s: the copy is of the same kind as the workbook; name a file that ends in %s", name, ending)
	}
	return nil
}

// exists reports whether there is a file of that name.
func exists(name string) bool {
	_, err := os.Stat(name)
	return err == nil
}

func usage(flags *flag.FlagSet, w io.Writer) {
	fmt.Fprint(w, `usage: sheetcheck [options] FILE

Recomputes a spreadsheet exactly (.xlsx, .ods, .csv, .tsv) and says which cells are
wrong, what would be right, and which mistake gives the value found. The file is
never changed. Exit status 0: the sheet was checked; 1: only with -strict, there
are findings or nothing was compared; 2: the input is wrong. The engine maker's manual and licensed
practice come first.

`)
	flags.SetOutput(w)
	flags.PrintDefaults()
	fmt.Fprintf(w, `
A workbook of an older kind (.xls) is first saved as .xlsx in a spreadsheet program.

What is read at most:
%s  formulas: %s
Links to other files are never followed and macros never run.
`, sheet.DefaultBounds(), calc.DefaultBounds())
}

// write writes a text to the file named, whole or not at all; to standard output if
// none is.
func write(name string, text []byte, stdout io.Writer) error {
	if name == "" {
		_, err := stdout.Write(text)
		return err
	}
	return wholefile.Write(name, text)
}

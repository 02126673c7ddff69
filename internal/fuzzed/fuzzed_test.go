// Package fuzzed says which fuzz target reaches each function that reads what others wrote, as a
// test: a reader without a target fails it.
package fuzzed

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

const root = "../.."

// readers are the exported functions and methods that take bytes, text or a stream and whose name
// says that they read it, each with the target that reaches it.
var readers = map[string]string{
	"clearance/film.ParseGrade":            "clearance/film.FuzzGrade",
	"clearance/isofit.ParseDesignation":    "clearance/isofit.FuzzParseDesignation",
	"clearance/isofit.ParseSize":           "clearance/isofit.FuzzParseSize",
	"clearance/isofit.ParseToleranceClass": "clearance/isofit.FuzzParseToleranceClass",
	"fasteners.ParseThread":                "fasteners.FuzzParseThread",
	"grading.ParseHalf":                    "grading.FuzzParseHalf",
	"grading.ReadCSV":                      "grading.FuzzReadCSV",
	"torque/ledger.ParseWord":              "torque/ledger.FuzzParseWord",
	"torque/preload.ParseFriction":         "torque/preload.FuzzParseFriction",

	"units.DecodeObject":        "units.FuzzDecodeObject",
	"units.Parse":               "units.FuzzParseArea",
	"units.ParseAngle":          "units.FuzzParseAngle",
	"units.ParseForce":          "units.FuzzParseForce",
	"units.ParseLength":         "units.FuzzParseLength",
	"units.ParseLengthInterval": "units.FuzzParseLengthInterval",
	"units.ParsePressure":       "units.FuzzParsePressure",
	"units.ParseRatio":          "units.FuzzParseRatio",
	"units.ParseTemperature":    "units.FuzzParseTemperature",
	"units.ParseTorque":         "units.FuzzParseTorque",
	"units.Scale.Parse":         "units.FuzzScaleParse",

	"examples/kit/ask.Question.Read":              "examples/kit/ask.FuzzAnswer",
	"examples/kit/ask.Distribution.UnmarshalJSON": "examples/kit/ask.FuzzAnswer",
	"examples/kit/ask.Float.UnmarshalJSON":        "examples/kit/ask.FuzzAnswer",
	"examples/kit/ask.How.UnmarshalText":          "examples/kit/ask.FuzzAnswer",
	"examples/kit/ask.Instrument.UnmarshalJSON":   "examples/kit/ask.FuzzAnswer",
	"examples/kit/ask.Rounding.UnmarshalText":     "examples/kit/ask.FuzzAnswer",
	"examples/kit/ask/whole.Format.UnmarshalText": "examples/kit/ask/whole.FuzzRecord",
	"examples/kit/bench.Key.UnmarshalText":        "examples/kit/bench.FuzzSet",
	"examples/kit/files/planfile.Read":            "examples/kit/files/planfile.FuzzRead",
	"examples/kit/files/schemefile.Read":          "examples/kit/files/schemefile.FuzzRead",
	"examples/kit/files/tomlfile.Decode":          "examples/kit/files/tomlfile.FuzzDecode",
	"examples/kit/files/tomlfile.Load":            "examples/kit/files/tomlfile.FuzzLoad",
	"examples/kit/job.ActionKind.UnmarshalText":   "examples/kit/record.FuzzRead",
	"examples/kit/job.Basis.UnmarshalJSON":        "examples/kit/record.FuzzRead",
	"examples/kit/job.Phase.UnmarshalText":        "examples/kit/record.FuzzRead",
	"examples/kit/job.Standing.UnmarshalText":     "examples/kit/record.FuzzRead",
	"examples/kit/job.Read":                       "examples/kit/job.FuzzRead",
	"examples/kit/job.ReadBeside":                 "examples/kit/job.FuzzRead",
	"examples/kit/record.ParseFormat":             "examples/kit/ask/whole.FuzzRecord",
	"examples/kit/record.Read":                    "examples/kit/ask/whole.FuzzRecord",
	"examples/kit/walk.ParseReached":              "examples/kit/walk.FuzzParseReached",
	"examples/kit/walk.ParseTool":                 "examples/kit/walk.FuzzParseTool",
	"examples/sheetcheck/calc.Forms.Read":         "examples/sheetcheck/calc.FuzzForms",
	"examples/sheetcheck/calc.Parse":              "examples/sheetcheck/calc.FuzzParse",
	"examples/sheetcheck/mapfile.Read":            "examples/sheetcheck/mapfile.FuzzRead",
	"examples/sheetcheck/sheet.Open":              "examples/sheetcheck/sheet.FuzzOpen",
	"examples/sheetcheck/sheet.OpenDocument":      "examples/sheetcheck/sheet.FuzzOpen",
	"examples/sheetcheck/sheet.OpenText":          "examples/sheetcheck/sheet.FuzzText",
	"examples/sheetcheck/sheet.OpenWorkbook":      "examples/sheetcheck/sheet.FuzzWorkbook",
	"examples/sheetcheck/sheet.ParseArea":         "examples/sheetcheck/sheet.FuzzParsePlace",
	"examples/sheetcheck/sheet.ParseColumn":       "examples/sheetcheck/sheet.FuzzParsePlace",
	"examples/sheetcheck/sheet.ParsePlace":        "examples/sheetcheck/sheet.FuzzParsePlace",

	// What reads under another name, or something that holds what others wrote.
	"examples/kit/ask.Set.Answer":             "examples/kit/ask.FuzzAnswer",
	"examples/kit/bench.Set":                  "examples/kit/bench.FuzzSet",
	"examples/kit/bench.Source.Read":          "examples/kit/bench.FuzzSet",
	"examples/kit/bench.Undo":                 "examples/kit/bench.FuzzSet",
	"examples/kit/conform.Answer":             "examples/kit/conform.FuzzAnswer",
	"examples/kit/lesson.Questions.Answer":    "examples/kit/lesson.FuzzAnswer",
	"examples/kit/page/module/shrink.Module":  "examples/kit/page/module/shrink.FuzzModule",
	"examples/sheetcheck/sheet.Document.Load": "examples/sheetcheck/sheet.FuzzDocument",
	"examples/sheetcheck/sheet.Text.Load":     "examples/sheetcheck/sheet.FuzzText",
	"examples/sheetcheck/sheet.Workbook.Load": "examples/sheetcheck/sheet.FuzzWorkbook",
	"examples/sheetcheck/understand.Read":     "examples/sheetcheck/understand.FuzzRead",
	"grading.Row.Read":                        "grading.FuzzRowRead",
	"torque/ledger.Open":                      "torque/ledger.FuzzWeigh",
	"torque/ledger.Read":                      "torque/ledger.FuzzWeigh",
}

// noReaders are those of such names that read nothing of anybody's.
var noReaders = map[string]string{
	"examples/kit/bench.Recorder.ReadFile": "hands a file on, and keeps its name",
	"units/measure.Instrument.Read":        "its text is a name",
	"units/measure.Strip.Read":             "its text is a name",
}

// The exchange form of every exported type is read by the target of its package: internal/exchange
// fails for a type that is not registered there.
var exchange = map[string]string{
	"units": "FuzzUnits", "units/measure": "FuzzMeasure", "clearance": "FuzzClearance", "clearance/isofit": "FuzzIsofit", "clearance/stack": "FuzzStack", "clearance/film": "FuzzFilm",
	"fasteners": "FuzzFasteners", "grading": "FuzzGrading", "grading/purchase": "FuzzPurchase", "torque": "FuzzTorque", "torque/ledger": "FuzzLedger", "torque/preload": "FuzzPreload", "torque/examination": "FuzzExamination",
}

var reads = regexp.MustCompile(`^(Parse|Read|Decode|Unmarshal|Load|Open|From)([A-Z].*)?$`)

// TestEveryReaderIsFuzzed reads the source of the library and of the programs.
func TestEveryReaderIsFuzzed(t *testing.T) {
	all, targets, named := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, top := range []string{"units", "clearance", "grading", "fasteners", "torque", "examples", "internal/exchange"} {
		err := filepath.WalkDir(filepath.Join(root, top), func(file string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case d.IsDir() && (d.Name() == "testdata" || d.Name() == "node_modules"):
				return filepath.SkipDir
			case !strings.HasSuffix(file, ".go"):
				return nil
			}
			folder, err := filepath.Rel(root, filepath.Dir(file))
			if err != nil {
				return err
			}
			parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			for _, decl := range parsed.Decls {
				f, is := decl.(*ast.FuncDecl)
				if !is || !f.Name.IsExported() {
					continue
				}
				receiver, exported := receiverOf(f)
				name := filepath.ToSlash(folder) + "." + receiver + f.Name.Name
				if strings.HasSuffix(file, "_test.go") {
					if receiver == "" && strings.HasPrefix(f.Name.Name, "Fuzz") {
						targets[name] = true
					}
					continue
				}
				all[name] = true
				named[name] = exported && reads.MatchString(f.Name.Name) && takesText(f.Type)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	found := 0
	for _, name := range slices.Sorted(maps.Keys(named)) {
		if !named[name] {
			continue
		}
		found++
		target := readers[name]
		folder := name[:strings.Index(name, path.Base(name))] + strings.SplitN(path.Base(name), ".", 2)[0]
		if target == "" && strings.Contains(name, ".Unmarshal") && exchange[folder] != "" {
			target = "internal/exchange." + exchange[folder]
			if !targets[target] {
				t.Errorf("%s: there is no %s", name, target)
			}
		}
		if target == "" && noReaders[name] == "" {
			t.Errorf("%s reads what others wrote, and no fuzz target is known to reach it: write one, and name it in readers", name)
		}
	}
	if found < 200 {
		t.Errorf("only %d readers were found: the pattern finds too little", found)
	}
	for name, target := range readers {
		if !all[name] {
			t.Errorf("%s is listed, and there is no such function any more", name)
		}
		if !targets[target] {
			t.Errorf("%s: there is no %s", name, target)
		}
	}
	for name := range noReaders {
		if !named[name] {
			t.Errorf("%s is excepted, and is no such function any more", name)
		}
	}
	page, err := os.ReadFile(filepath.Join(root, "RELIABILITY.md"))
	if err != nil {
		t.Fatal(err)
	}
	if says := fmt.Sprintf("programs: %d of them are reached by %d targets.", found, len(targets)); !strings.Contains(string(page), says) {
		t.Errorf("RELIABILITY.md does not say %q", says)
	}
}

// receiverOf returns "Type." of a method, and whether it can be called from outside.
func receiverOf(f *ast.FuncDecl) (name string, exported bool) {
	if f.Recv == nil {
		return "", true
	}
	of := f.Recv.List[0].Type
	for {
		switch t := of.(type) {
		case *ast.StarExpr:
			of = t.X
		case *ast.IndexExpr:
			of = t.X
		case *ast.IndexListExpr:
			of = t.X
		case *ast.Ident:
			return t.Name + ".", t.IsExported()
		default:
			return "", false
		}
	}
}

// takesText reports whether a function takes a text, bytes or a stream of them.
func takesText(f *ast.FuncType) bool {
	return slices.ContainsFunc(f.Params.List, func(p *ast.Field) bool {
		switch t := p.Type.(type) {
		case *ast.Ident:
			return t.Name == "string"
		case *ast.ArrayType:
			element, is := t.Elt.(*ast.Ident)
			return is && element.Name == "byte"
		case *ast.SelectorExpr:
			return t.Sel.Name == "Reader" || t.Sel.Name == "FS"
		}
		return false
	})
}

// TestTargetsAssert: a target that asserts nothing finds panics alone. Each calls something of its
// test's that fails, in its own body or by a function that it hands its test to.
func TestTargetsAssert(t *testing.T) {
	fails := regexp.MustCompile(`\.(Error|Fatal)f?\(|rapid\.MakeFuzz|fuzz\(f,|fuzzForms\(f,|fuzzAdvice\(|opened\(t,|sameAgain\(t,|sameAsAsk\(t,|neverWorse\(t,|check[A-Z]\w*\(t,`)
	start := regexp.MustCompile(`(?m)^func (Fuzz\w+)\(f \*testing\.F\)`)
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && file != root || d.Name() == "fuzzed"):
			return filepath.SkipDir
		case !strings.HasSuffix(file, "_test.go"):
			return nil
		}
		text, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		for _, at := range start.FindAllSubmatchIndex(text, -1) {
			body := string(text[at[0]:])
			if end := strings.Index(body, "\n}"); end >= 0 && !strings.Contains(strings.SplitN(body, "\n", 2)[0], "}") {
				body = body[:end]
			} else {
				body = strings.SplitN(body, "\n", 2)[0]
			}
			if !fails.MatchString(body) {
				t.Errorf("%s: %s asserts nothing", file, text[at[2]:at[3]])
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

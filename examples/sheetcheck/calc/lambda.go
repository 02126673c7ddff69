package calc

import (
	"fmt"
	"strings"
)

// application is the name of a Call whose first argument is the function that is called with the
// others, as in LAMBDA(x,2*x)(3).
const application = "("

// A given is a name that LET or LAMBDA gives a value within a formula.
type given struct {
	name    string // in small letters
	operand operand
	lambda  *Call  // if the name is a function
	outside *given // that the function's own names stand in
	next    *given
}

// boundName returns a name of LET or LAMBDA as it is compared: files put a prefix before it.
func boundName(name string) string {
	name = strings.ToLower(name)
	return strings.TrimPrefix(name, "_xlpm.")
}

// bound returns what LET or LAMBDA gave a name; nil if neither did.
func (f *frame) bound(name string) *given {
	if f.names == nil {
		return nil
	}
	name = boundName(name)
	for b := f.names; b != nil; b = b.next {
		if b.name == name {
			return b
		}
	}
	return nil
}

// lambdaOf returns a function that is written in place, or that a name stands for, with the
// names that it stands in. ok is false if it is none.
func (f *frame) lambdaOf(e Expr) (lambda *Call, outside *given, ok bool) {
	switch e := e.(type) {
	case *Call:
		if e.Name == "LAMBDA" && len(e.Args) > 0 {
			return e, f.names, true
		}
	case *Name:
		if b := f.bound(e.Name); b != nil {
			return b.lambda, b.outside, b.lambda != nil
		}
	}
	return nil, nil, false
}

// let is LET: names with their values, each seen by what follows, and the result.
func let(f *frame, args []Expr) operand {
	inner := *f
	for ; len(args) >= 3; args = args[2:] {
		name, ok := args[0].(*Name)
		if !ok || name.Sheet != "" || name.File != "" {
			return plain(unknown(fmt.Sprintf("LET with %s where a name belongs", args[0])))
		}
		b := &given{name: boundName(name.Name), next: inner.names}
		if b.lambda, b.outside, ok = inner.lambdaOf(args[1]); !ok {
			b.operand = inner.eval(args[1])
		}
		inner.names = b
	}
	if len(args) != 1 {
		return plain(unknown("LET with a name that has no value"))
	}
	return inner.eval(args[0])
}

// applied calls a function that LAMBDA makes. Arguments are evaluated where the call stands.
func (f *frame) applied(lambda *Call, outside *given, args []Expr) operand {
	if f.depth >= mostNames {
		return plain(unknown(fmt.Sprintf("functions made by LAMBDA more than %d deep in one another", mostNames)))
	}
	if v, ok := f.e.look(nameVisits); !ok {
		return plain(v)
	}
	parameters := lambda.Args[:len(lambda.Args)-1]
	if len(args) != len(parameters) {
		return plain(failed(ErrValue))
	}
	inner := *f
	inner.depth, inner.names = f.depth+1, outside
	for i, p := range parameters {
		name, ok := p.(*Name)
		if !ok {
			return plain(unknown(fmt.Sprintf("LAMBDA with %s where a name belongs", p)))
		}
		b := &given{name: boundName(name.Name), next: inner.names}
		if b.lambda, b.outside, ok = f.lambdaOf(args[i]); !ok {
			b.operand = f.eval(args[i])
		}
		inner.names = b
	}
	return inner.eval(lambda.Args[len(lambda.Args)-1])
}

// made calls a function that LET or the workbook gives a name; ok is false if neither does.
func (f *frame) made(e *Call) (o operand, ok bool) {
	if e.Name == application {
		lambda, outside, ok := f.lambdaOf(e.Args[0])
		if !ok {
			return plain(unknown(fmt.Sprintf("%s, which is called as a function", e.Args[0]))), true
		}
		return f.applied(lambda, outside, e.Args[1:]), true
	}
	if b := f.bound(e.Name); b != nil {
		if b.lambda == nil {
			return plain(unknown(fmt.Sprintf("%s is called as a function, and is none", e.Name))), true
		}
		return f.applied(b.lambda, b.outside, e.Args), true
	}
	d := f.definition(f.index, e.Name)
	lambda, is := d.parsed.(*Call)
	if !is || lambda.Name != "LAMBDA" || len(lambda.Args) == 0 {
		return o, false
	}
	args := make([]Expr, len(e.Args))
	for i, a := range e.Args {
		if _, _, function := f.lambdaOf(a); function {
			return plain(unknown(fmt.Sprintf("%s is given a function", e.Name))), true
		}
		args[i] = &computed{a, f.eval(a)} // its own cells are counted from another place
	}
	inner := *f
	inner.move, inner.names = true, nil
	return inner.applied(lambda, nil, args), true
}

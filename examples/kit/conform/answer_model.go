package conform

import (
	"context"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"strconv"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
)

// A model is a formula of inputs that have distributions: the question of a measurement model.
type model struct {
	Formula     string
	Inputs      []modelInput
	Correlation *float64 // of the first two
	Coverage    *float64
}

// A modelInput is a number with a distribution; its kind says which of the others it has.
type modelInput struct {
	Name, Kind      string
	Mean, Deviation float64 // normal
	Lo, Hi          float64 // uniform, arcsine
	Freedom, Scale  float64 // Student's t, about Mean
	Half, Inexact   float64 // curvilinear trapezoid about Mean: its half-width, and how far that may be off
}

// drawn is how an input comes from sizes of a stack.
type drawn struct {
	from    []stack.Contributor // in millimetres for the model's numbers
	of      func(sizes []float64) float64
	derived bool // from numbers that are not the input itself
}

func (i modelInput) drawn() (drawn, error) {
	itself := func(limits string, d stack.Distribution) (drawn, error) {
		within, err := units.ParseLengthInterval(limits)
		return drawn{from: []stack.Contributor{stack.Adds(i.Name, within, d)}, of: func(x []float64) float64 { return x[0] }}, err
	}
	two := func(of func(p, q float64) float64) (drawn, error) {
		number := stack.Adds("uniform number", units.MustParseLengthInterval("0..1 mm"), stack.Uniform())
		return drawn{[]stack.Contributor{number, number}, func(x []float64) float64 { return of(x[0], x[1]) }, true}, nil
	}
	switch i.Kind {
	case "normal":
		return itself(fmt.Sprintf("%s ±%s mm", float(i.Mean), float(3*i.Deviation)), stack.Normal(3))
	case "uniform":
		return itself(fmt.Sprintf("%s..%s mm", float(i.Lo), float(i.Hi)), stack.Uniform())
	case "arcsine":
		return itself(fmt.Sprintf("%s..%s mm", float(i.Lo), float(i.Hi)), stack.Arcsine())
	case "student":
		// A point of Student's t in a plane lies farther than r from the centre with probability (1 + r²/ν)^(-ν/2).
		return two(func(p, q float64) float64 {
			return i.Mean + i.Scale*math.Sqrt(i.Freedom*(math.Pow(p, -2/i.Freedom)-1))*math.Cos(2*math.Pi*q)
		})
	case "curvilinear trapezoid":
		return two(func(p, q float64) float64 { return i.Mean + (i.Half+i.Inexact*(2*p-1))*(2*q-1) })
	}
	return drawn{}, fmt.Errorf("no distribution %q", i.Kind)
}

// simulated draws a million times; the line and its next terms stand beside it where the inputs have them.
func simulated(q model) (answer, error) {
	if len(q.Inputs) == 0 || len(q.Inputs) > 20 {
		return nil, errors.New("1 to 20 inputs")
	}
	var sizes stack.Stack
	var inputs []drawn
	names := map[string]int{}
	derived := false
	for i, in := range q.Inputs {
		d, err := in.drawn()
		if err != nil {
			return nil, err
		}
		names[in.Name] = i
		sizes = append(sizes, d.from...)
		inputs = append(inputs, d)
		derived = derived || d.derived
	}
	formula, err := parser.ParseExpr(q.Formula)
	if err != nil {
		return nil, err
	}
	of, err := compiled(formula, names)
	if err != nil {
		return nil, err
	}
	f := func(sizes []float64) float64 {
		var at [20]float64
		for i, d := range inputs {
			at[i] = d.of(sizes)
			sizes = sizes[len(d.from):]
		}
		return of(at[:])
	}
	if q.Correlation != nil {
		if len(sizes) != 2 || derived {
			return nil, errors.New("a correlation is of two inputs")
		}
		if sizes, err = sizes.Correlated([][]float64{{1, *q.Correlation}, {*q.Correlation, 1}}); err != nil {
			return nil, err
		}
	}
	o, err := sizes.SimulateFunc(context.Background(), f, units.RatioInterval{}, stack.Simulation{Trials: 1_000_000, Seed: 1})
	if err != nil {
		return nil, err
	}
	reply := answer{"mean": float(o.Mean), "std_dev": float(o.StdDev), "first_order": nil, "second_order": nil}
	if !derived {
		line, err := sizes.Linearise(f)
		if err != nil {
			return nil, err
		}
		reply["first_order"], reply["second_order"] = float(line.StdDev), float(line.SecondOrder)
	}
	if q.Coverage != nil {
		lo, _, err := o.Quantile((1 - *q.Coverage) / 2)
		hi, _, err2 := o.Quantile((1 + *q.Coverage) / 2)
		if err := errors.Join(err, err2); err != nil {
			return nil, err
		}
		reply["lo"], reply["hi"], reply["width"] = float(lo), float(hi), float(hi-lo)
	}
	return reply, nil
}

// compiled makes a function of an expression of + - * / and names.
func compiled(e ast.Expr, names map[string]int) (func([]float64) float64, error) {
	switch e := e.(type) {
	case *ast.ParenExpr:
		return compiled(e.X, names)
	case *ast.BasicLit:
		v, err := strconv.ParseFloat(e.Value, 64)
		return func([]float64) float64 { return v }, err
	case *ast.Ident:
		i, known := names[e.Name]
		if !known {
			return nil, fmt.Errorf("no input %q", e.Name)
		}
		return func(x []float64) float64 { return x[i] }, nil
	case *ast.UnaryExpr:
		of, err := compiled(e.X, names)
		if err != nil || e.Op != token.SUB {
			return nil, errors.Join(err, errors.New("the one sign before a term is -"))
		}
		return func(x []float64) float64 { return -of(x) }, nil
	case *ast.BinaryExpr:
		a, err := compiled(e.X, names)
		b, err2 := compiled(e.Y, names)
		if err := errors.Join(err, err2); err != nil {
			return nil, err
		}
		switch e.Op {
		case token.ADD:
			return func(x []float64) float64 { return a(x) + b(x) }, nil
		case token.SUB:
			return func(x []float64) float64 { return a(x) - b(x) }, nil
		case token.MUL:
			return func(x []float64) float64 { return a(x) * b(x) }, nil
		case token.QUO:
			return func(x []float64) float64 { return a(x) / b(x) }, nil
		}
	}
	return nil, errors.New("a formula has names, numbers, brackets and + - * /")
}

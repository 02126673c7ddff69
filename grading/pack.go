package grading

import (
	"fmt"

	"example.com/closefit/grading/purchase"
)

// A Pack is a way to buy parts: a box of fixed contents at a price.
type Pack = purchase.Pack[Part]

// Bought is a number of one pack.
type Bought = purchase.Bought[Part]

// checkGrades reports the first part of the order that has no grade.
func (o Order) checkGrades() error {
	for i, p := range o.Packs {
		for _, c := range p.Parts {
			if c.Part.Grade == "" {
				return &purchase.PackError{Pack: p.Name, Index: i, Kind: ErrNoGrade, What: "a part without a grade; write which it is"}
			}
		}
	}
	for _, c := range o.Demand {
		if c.Part.Grade == "" {
			return fmt.Errorf("demand of %d: %w; write which part it is", c.N, ErrNoGrade)
		}
	}
	return nil
}

package exchange

import (
	"fmt"

	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

func fastenersForms() []form {
	return []form{
		valueBy("Thread", drawThread, fasteners.Thread.Equal),
		valueBy("End", drawEnd, func(a, b fasteners.End) bool { return a == b }),
		valueBy("Reuse", func(t *rapid.T) fasteners.Reuse {
			return rapid.SampledFrom([]fasteners.Reuse{fasteners.Undecided, fasteners.Reusable, fasteners.Replace}).Draw(t, "reuse")
		}, func(a, b fasteners.Reuse) bool { return a == b }),
		valueBy("Question", func(t *rapid.T) fasteners.Question {
			return rapid.SampledFrom(fasteners.Questions()).Draw(t, "question")
		}, func(a, b fasteners.Question) bool { return a == b }),
		valueBy("Segment", drawSegment, same),
		valueBy("Layer", drawLayer, same),
		valueBy("BoltShape", func(t *rapid.T) fasteners.BoltShape {
			return fasteners.BoltShape{Thread: drawThread(t), Head: drawEnd(t), Seat: drawEnd(t), Grip: drawLength(t), Shank: drawSome(t, "shank", drawSegment),
				FreeThread: drawLength(t), Modulus: draw(t, units.Megapascal), SeatModulus: draw(t, units.Pascal)}
		}, same),
		valueBy("ClampedParts", func(t *rapid.T) fasteners.ClampedParts {
			parts := fasteners.ClampedParts{Seat: drawEnd(t), Hole: drawLength(t), Face: drawLength(t), Outside: drawLength(t), Layers: drawSome(t, "layers", drawLayer)}
			if rapid.Bool().Draw(t, "angle given") {
				angle := draw(t, units.Degree)
				parts.HalfAngle = &angle
			}
			return parts
		}, same),
		valueBy("Heated", func(t *rapid.T) fasteners.Heated {
			return fasteners.Heated{Length: drawLength(t), Expansion: draw(t, units.PartsPerMillion), From: drawTemperature(t), To: drawTemperature(t)}
		}, same),
		valueBy("Joint", drawJoint, same),
		valueBy("LoadedJoint", func(t *rapid.T) fasteners.LoadedJoint {
			preload := units.Newton.OfInt(rapid.Int64Range(1, 90_000).Draw(t, "preload"))
			outer := draw(t, units.PoundForce)
			l, err := drawJoint(t).Under(units.MustInterval(preload, preload.MulInt(2)), units.MustInterval(outer.Sub(preload), outer.Add(preload)))
			if err != nil {
				t.Fatal(err)
			}
			return l
		}, same),
		valueBy("Limits", func(t *rapid.T) fasteners.Limits {
			of := rapid.SampledFrom([][2]string{{"M10", "6g"}, {"M10", "6H"}, {"M10x1.12", "6g"}, {"M1.2", "6H"},
				{"3/8-24 UNF", "2A"}, {"7/16-24 UNS", "2B"}, {"#4-40", "2A"}}).Draw(t, "thread and class")
			l, err := fasteners.MustParseThread(of[0]).Limits(of[1])
			if err != nil {
				t.Fatal(err)
			}
			return l
		}, same),
		valueBy("Strength", func(t *rapid.T) fasteners.Strength {
			of := rapid.SampledFrom([][2]string{
				{"4.8", "M10"}, {"8.8", "M20"}, {"10.9", "M12x1.25"},
				{"1", "1-8"}, {"8", "3/8-24"}, // of which the standard gives no hardness in HV
			}).Draw(t, "class and thread")
			s, err := fasteners.StrengthOf(of[0], fasteners.MustParseThread(of[1]))
			if err != nil {
				t.Fatal(err)
			}
			return s
		}, same),
	}
}

// draw draws a quantity of the unit: any, zero and below too.
func draw[D units.Dimension](t *rapid.T, u units.Unit[D]) units.Quantity[D] {
	return u.OfRat(drawRat(t))
}

// drawSome draws none or a few, and none as null and as an empty list.
func drawSome[T any](t *rapid.T, label string, one func(*rapid.T) T) []T {
	n := rapid.IntRange(-1, 3).Draw(t, label)
	if n < 0 {
		return nil
	}
	some := []T{}
	for range n {
		some = append(some, one(t))
	}
	return some
}

func drawThread(t *rapid.T) fasteners.Thread {
	if rapid.Bool().Draw(t, "unified") {
		return fasteners.MustParseThread(rapid.SampledFrom([]string{"#0-80 UNF", "1/4-20 UNC", "7/16-28 UNEF", "1-1/8-8 UN", "2-4.5 UNC", "7/16-24 UNS"}).Draw(t, "thread"))
	}
	pitch := rapid.Int64Range(20, 600).Draw(t, "pitch in hundredths")
	diameter := rapid.Int64Range((5*pitch+1)/2, 3*pitch+30_000).Draw(t, "diameter in hundredths")
	return fasteners.MustParseThread(fmt.Sprintf("M%d.%02dx%d.%02d", diameter/100, diameter%100, pitch/100, pitch%100))
}

func drawEnd(t *rapid.T) fasteners.End {
	return rapid.SampledFrom([]fasteners.End{fasteners.HexHead, fasteners.SocketHead, fasteners.Nut, fasteners.TappedHole}).Draw(t, "end")
}

func drawSegment(t *rapid.T) fasteners.Segment {
	return fasteners.Segment{Name: rapid.SampledFrom([]string{"", "shank", "\"free\" thread"}).Draw(t, "name"), Length: drawLength(t),
		Area: draw(t, units.SquareMillimetre), Modulus: draw(t, units.Megapascal)}
}

func drawLayer(t *rapid.T) fasteners.Layer {
	return fasteners.Layer{Name: rapid.SampledFrom([]string{"", "cap", "block <2>"}).Draw(t, "name"), Thickness: drawLength(t), Modulus: draw(t, units.KipPerSquareInch)}
}

func drawJoint(t *rapid.T) fasteners.Joint {
	return fasteners.Joint{Bolt: units.NewtonPerMillimetre.OfInt(rapid.Int64Range(1, 999_999).Draw(t, "bolt")),
		Members: units.NewtonPerMillimetre.OfInt(rapid.Int64Range(1, 999_999).Draw(t, "members"))}
}

package exchange

import (
	"errors"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/torque"
	"example.com/closefit/torque/examination"
	"example.com/closefit/torque/ledger"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

func torqueForms() []form {
	return []form{
		valueOf("Plan", func(t *rapid.T) *torque.Plan { return drawPlan(t) }),
		valueOf("Group", func(t *rapid.T) torque.Group { return drawPlan(t).Groups()[0] }),
		valueOf("Stage", func(t *rapid.T) torque.Stage {
			return rapid.SampledFrom(drawPlan(t).Groups()[0].Stages).Draw(t, "stage")
		}),
		valueOf("Step", func(t *rapid.T) torque.Step { return rapid.SampledFrom(drawPlan(t).Steps()).Draw(t, "step") }),
		valueOf("Position", func(t *rapid.T) torque.Position { return drawPlan(t).Groups()[0].Pattern[1] }),
		valueOf("Given", func(t *rapid.T) torque.Given {
			return rapid.SliceOf(rapid.SampledFrom([]string{"b", "a", "c \"front\""})).Draw(t, "bolts")
		}),
		valueOf("Arrangement", drawArrangement),
		valueOf("BoltUse", func(t *rapid.T) torque.BoltUse {
			return rapid.SampledFrom([]torque.BoltUse{torque.NotSaid, torque.SingleUse, torque.Reusable}).Draw(t, "use")
		}),
		valueOf("Action", drawAction),
	}
}

func torqueExceptions() map[string]string {
	const inAction = "it travels in an Action, which says its kind"
	return map[string]string{
		"PlanError": "an error, which is said and does not travel",
		"Tighten":   inAction, "Turn": inAction, "BackOff": inAction, "Wait": inAction, "Inspection": inAction,
	}
}

func ledgerForms() []form {
	bolts := rapid.SampledFrom([]string{"", "1L", "2 \"rear\""})
	texts := rapid.SampledFrom([]string{"", "the builder", `a "mark", 3 < 4`})
	return []form{
		valueOf("Status", func(t *rapid.T) ledger.Status { return ledger.Status(rapid.IntRange(0, 5).Draw(t, "status")) }),
		valueOf("Entry", func(t *rapid.T) ledger.Entry {
			return ledger.Entry{Line: rapid.IntRange(2, 99).Draw(t, "line"), Time: time.UnixMicro(rapid.Int64Range(0, 4e15).Draw(t, "time")).UTC(),
				What: rapid.SampledFrom([]string{"plan", "begin", "done", "no", "loosened", "taken over", "slipped", "note"}).Draw(t, "what"), Step: rapid.IntRange(0, 9).Draw(t, "step"), Bolt: bolts.Draw(t, "bolt"),
				Detail: rapid.SampledFrom([]string{"", "the gate is open", `{"gate":"final"}`}).Draw(t, "detail")}
		}),
		valueOf("Work", func(t *rapid.T) ledger.Work {
			return ledger.Work{Engine: "lock gate engine 4711", Build: "rebuild", Assembly: texts.Draw(t, "assembly")}
		}),
		valueOf("Word", func(t *rapid.T) ledger.Word {
			return ledger.Word{By: texts.Draw(t, "by"), Reason: texts.Draw(t, "reason")}
		}),
		valueOf("Mishap", func(t *rapid.T) ledger.Mishap { return rapid.SampledFrom(ledger.Mishaps()).Draw(t, "mishap") }),
		valueOf("What", func(t *rapid.T) ledger.What {
			return ledger.What{Mishap: rapid.SampledFrom(ledger.Mishaps()).Draw(t, "mishap"), Step: rapid.IntRange(1, 9).Draw(t, "step"), Bolt: bolts.Draw(t, "bolt"), Instead: rapid.IntRange(0, 9).Draw(t, "instead")}
		}),
		valueOf("Trouble", func(t *rapid.T) ledger.Trouble {
			return ledger.Trouble{Bolt: bolts.Draw(t, "bolt"), Step: rapid.IntRange(0, 9).Draw(t, "step"), Scrap: rapid.Bool().Draw(t, "scrap"), Stays: rapid.Bool().Draw(t, "stays"), Why: texts.Draw(t, "why"), Advice: texts.Draw(t, "advice")}
		}),
		valueOf("Tool", func(t *rapid.T) ledger.Tool {
			return ledger.Tool{Name: "wrench 2", Set: texts.Draw(t, "set"), Certificate: texts.Draw(t, "certificate")}
		}),
		valueOf("Reached", func(t *rapid.T) ledger.Reached {
			r := ledger.Reached{By: texts.Draw(t, "by")}
			if rapid.Bool().Draw(t, "torque") {
				r.Torque = units.MustParse[units.TorqueInterval]("22.5..23.1 N·m")
			}
			if rapid.Bool().Draw(t, "angle") {
				r.Angle = units.MustParse[units.AngleInterval]("81..84°")
			}
			return r
		}),
		valueOf("Choice", drawChoice),
		valueOf("Change", func(t *rapid.T) ledger.Change {
			return ledger.Change{Bolt: "1L", Was: texts.Draw(t, "was"), Is: texts.Draw(t, "is"), Choices: rapid.SliceOf(rapid.Custom(drawChoice)).Draw(t, "choices")}
		}),
	}
}

func drawChoice(t *rapid.T) ledger.Choice {
	return rapid.SampledFrom([]ledger.Choice{ledger.Leave, ledger.Finish, ledger.BackOff, ledger.Replace}).Draw(t, "choice")
}

func ledgerExceptions() map[string]string {
	return map[string]string{"Ledger": "an open file", "Home": "paths of one machine"}
}

func preloadForms() []form {
	return []form{
		valueOf("Friction", func(t *rapid.T) preload.Friction { return drawYieldBolt(t).Friction }),
		valueOf("Screw", func(t *rapid.T) preload.Screw { return drawYieldBolt(t).Screw }),
		valueOf("YieldBolt", drawYieldBolt),
		valueOf("Forecast", drawForecast),
		valueOf("State", func(t *rapid.T) preload.State { return rapid.SampledFrom(drawForecast(t).States).Draw(t, "state") }),
		valueOf("Scattering", drawScattering),
		valueOf("Cause", func(t *rapid.T) preload.Cause { return rapid.SampledFrom(drawScattering(t).ByAngle).Draw(t, "cause") }),
		valueOf("Method", func(t *rapid.T) preload.Method { return rapid.SampledFrom(preload.Methods()).Draw(t, "method") }),
		valueOf("Wrench", drawWrench),
		valueOf("Extension", drawExtension),
		valueOf("Load", drawLoad),
		valueOf("Embedding", drawEmbedding),
		valueOf("Engagement", drawEngagement),
		valueOf("Stripping", func(t *rapid.T) preload.Stripping {
			s, err := drawEngagement(t).Stripping()
			fatal(t, err)
			return s
		}),
	}
}

func preloadExceptions() map[string]string {
	return map[string]string{"Course": "a bolt under way; its States travel"}
}

func examinationForms() []form {
	return []form{
		valueOf("Neighbours", drawNeighbours),
		valueOf("BoltPull", func(t *rapid.T) examination.BoltPull { return drawBoltPulls(t)[0] }),
		valueOf("Interaction", func(t *rapid.T) examination.Interaction {
			i, err := drawNeighbours(t).Tighten(drawBoltPulls(t)...)
			fatal(t, err)
			return i
		}),
		valueOf("Installed", drawInstalled),
		valueOf("Examination", drawExamination),
		valueOf("Question", func(t *rapid.T) examination.Question {
			return rapid.SampledFrom(drawExamination(t).Questions).Draw(t, "question")
		}),
	}
}

func drawLoad(t *rapid.T) preload.Load {
	return rapid.SampledFrom([]preload.Load{preload.Tension, preload.Shear}).Draw(t, "load")
}

func drawEmbedding(t *rapid.T) preload.Embedding {
	rz := func(name string) units.LengthInterval {
		lo := rapid.Int64Range(1, 150).Draw(t, name)
		return units.MustInterval(units.Micrometre.OfInt(lo), units.Micrometre.OfInt(rapid.Int64Range(lo, 159).Draw(t, name+" to")))
	}
	e := preload.Embedding{Load: drawLoad(t), Thread: rz("thread"), Faces: []units.LengthInterval{rz("head")}}
	if rapid.Bool().Draw(t, "with a nut") {
		e.Faces, e.Inner = append(e.Faces, rz("nut")), []units.LengthInterval{rz("inner")}
	}
	return e
}

func drawNeighbours(t *rapid.T) examination.Neighbours {
	lo := rapid.Int64Range(0, 9).Draw(t, "share")
	tenths := func(n int64) units.Ratio { return units.One.Of(decimal.New(n, -1)) }
	return examination.Neighbours{
		Joint:   fasteners.Joint{Bolt: units.KilonewtonPerMillimetre.OfInt(210), Members: units.KilonewtonPerMillimetre.OfInt(rapid.Int64Range(300, 900).Draw(t, "parts"))},
		Pattern: torque.Caps([]string{"1L", "1R"}, []string{"2L", "2R"}),
		Share:   units.MustInterval(tenths(lo), tenths(rapid.Int64Range(lo, 10).Draw(t, "share to"))),
	}
}

func drawBoltPulls(t *rapid.T) []examination.BoltPull {
	pull := rapid.Custom(func(t *rapid.T) examination.BoltPull {
		return examination.BoltPull{Bolt: rapid.SampledFrom([]string{"1L", "1R", "2L", "2R"}).Draw(t, "bolt"), To: units.Newton.OfInt(rapid.Int64Range(0, 40_000).Draw(t, "to"))}
	})
	return rapid.SliceOfN(pull, 1, 5).Draw(t, "pulls")
}

func drawEngagement(t *rapid.T) preload.Engagement {
	e := preload.Engagement{Thread: fasteners.MustParseThread("M9x1"), Length: units.MustParseLengthInterval("12..13 mm"),
		Bolt: units.MustParse[units.PressureInterval]("1040..1248 MPa"), Hole: units.Exactly(units.Megapascal.OfInt(rapid.Int64Range(100, 900).Draw(t, "hole"))),
		BoltShear: units.MustParse[units.RatioInterval]("0.6..0.65"), HoleShear: units.MustParse[units.RatioInterval]("0.577..0.7")}
	if rapid.Bool().Draw(t, "a nut") {
		e.Flats = units.MustParseLength("15 mm")
	}
	return e
}

func drawInstalled(t *rapid.T) examination.Installed {
	strength, err := fasteners.StrengthOf("10.9", fasteners.MustParseThread("M9x1"))
	fatal(t, err)
	b := examination.Installed{Bolt: drawYieldBolt(t), Strength: strength}
	if rapid.Bool().Draw(t, "all known") {
		e, n, m := drawEngagement(t), drawNeighbours(t), drawEmbedding(t)
		b.Joint, b.Share, b.Engagement, b.Embedding = &n.Joint, n.Share, &e, &m
		b.Seating, b.Key = units.MustParseForce("9 kN"), units.MustParseLength("8 mm")
	}
	return b
}

func drawExamination(t *rapid.T) examination.Examination {
	plan, err := torque.NewPlan("drawn", torque.Group{Name: "caps", Pattern: torque.Caps([]string{"1L", "1R"}, []string{"2L", "2R"}), Use: torque.Reusable,
		Stages: []torque.Stage{{Pull: torque.Do(torque.Tighten{To: units.MustParseTorque("14 N·m")})}, {Pull: torque.Do(torque.Turn{By: units.MustParseAngle("240°")})}}})
	fatal(t, err)
	x, err := drawInstalled(t).Examine(plan, "caps")
	fatal(t, err)
	return x
}

func fatal(t *rapid.T, errs ...error) {
	if err := errors.Join(errs...); err != nil {
		t.Fatal(err)
	}
}

func drawArrangement(t *rapid.T) torque.Arrangement {
	return rapid.SampledFrom([]torque.Arrangement{torque.InsideOut, torque.OutsideIn, torque.Spiral, torque.Cross, torque.Rows, torque.CapByCap}).Draw(t, "arrangement")
}

func drawTighten(t *rapid.T) torque.Tighten {
	pull := torque.Tighten{To: units.NewtonMetre.OfInt(rapid.Int64Range(5, 90).Draw(t, "torque")), In: rapid.SampledFrom([]units.TorqueUnit{units.NewtonMetre, units.PoundForceFoot}).Draw(t, "in")}
	if rapid.Bool().Draw(t, "within") {
		pull.Within = units.PlusMinus(pull.To, units.MustParseTorque("(1/3) N·m"))
	}
	return pull
}

func drawTurn(t *rapid.T) torque.Turn {
	pull := torque.Turn{By: units.Degree.OfInt(rapid.Int64Range(20, 90).Draw(t, "angle"))}
	if rapid.Bool().Draw(t, "within") {
		pull.Within = units.PlusMinus(pull.By, units.MustParseAngle("2.5°"))
	}
	return pull
}

func drawWait(t *rapid.T) torque.Wait {
	return torque.Wait{For: time.Duration(rapid.Int64Range(1, 1e13).Draw(t, "wait")), Why: rapid.SampledFrom([]string{"", "for the gasket"}).Draw(t, "why")}
}

func drawInspection(t *rapid.T) torque.Inspection {
	look := torque.Inspection{Ask: "Free?", In: units.Thou, IfNot: rapid.SampledFrom([]string{"", "strip it"}).Draw(t, "if not")}
	if rapid.Bool().Draw(t, "measured") {
		look.Within = units.MustParseLengthInterval("<= 0.1 mm")
	}
	return look
}

func drawAction(t *rapid.T) torque.Action {
	return rapid.SampledFrom([]torque.Action{
		torque.Do(drawTighten(t)), torque.Do(drawTurn(t)), torque.Do(drawWait(t)), torque.Do(drawInspection(t)),
		torque.Do(torque.BackOff{By: units.Degree.OfInt(rapid.Int64Range(0, 360).Draw(t, "back"))}),
	}).Draw(t, "action")
}

func drawPlan(t *rapid.T) *torque.Plan {
	group := torque.Group{
		Name: "mains", Pattern: torque.Caps([]string{"1L", "1R"}, []string{"2L", "2R"}), Use: torque.SingleUse, On: "block",
		First: []torque.Action{torque.Do(drawInspection(t))},
		Stages: []torque.Stage{
			{Pull: torque.Do(drawTighten(t)), Order: rapid.SampledFrom([]torque.Sequence{nil, torque.OutsideIn, torque.Rows}).Draw(t, "order"), Then: []torque.Action{torque.Do(drawWait(t))}},
			{Pull: torque.Do(drawTurn(t))},
		},
	}
	if rapid.Bool().Draw(t, "order given") {
		group.Order = torque.Given{"2R", "1L", "2L", "1R"}
	}
	plan, err := torque.NewPlan("drawn", group, torque.Group{Name: "side", Pattern: torque.Row("S1"),
		Stages: []torque.Stage{{Pull: torque.Do(drawTighten(t)), DuringGroup: "mains", DuringStage: 1}}})
	fatal(t, err)
	return plan
}

func drawYieldBolt(t *rapid.T) preload.YieldBolt {
	share := func(name string) units.RatioInterval {
		lo := rapid.Int64Range(80, 140).Draw(t, name)
		return units.MustInterval(units.One.Of(decimal.New(lo, -3)), units.One.Of(decimal.New(lo+rapid.Int64Range(0, 60).Draw(t, name+" wide"), -3)))
	}
	return preload.YieldBolt{
		Screw:     preload.Screw{Thread: fasteners.MustParseThread("M9x1"), Face: units.MustParseLength("15.3 mm"), Hole: units.MustParseLength("9.5 mm")},
		Friction:  preload.Friction{Thread: share("thread"), Bearing: share("bearing")},
		Stiffness: units.MustParse[units.StiffnessInterval]("149.3..182.5 kN/mm"), Yield: units.MustParse[units.PressureInterval]("940..1080 MPa"),
		Section: units.Micrometre.OfInt(rapid.SampledFrom([]int64{0, 7_800}).Draw(t, "section")),
	}
}

func drawForecast(t *rapid.T) preload.Forecast {
	f, err := drawYieldBolt(t).Forecast(units.MustParse[units.TorqueInterval]("13.4..14.6 N·m"), units.MustParse[units.AngleInterval]("81..89°"), units.MustParse[units.AngleInterval]("0..10°"))
	fatal(t, err)
	return f
}

func drawScattering(t *rapid.T) preload.Scattering {
	s, err := drawYieldBolt(t).Scattering(units.MustParse[units.TorqueInterval]("13.4..14.6 N·m"), units.MustParse[units.AngleInterval]("81..89°"))
	fatal(t, err)
	return s
}

func drawWrench(t *rapid.T) preload.Wrench {
	w := preload.Wrench{Range: units.MustParse[units.TorqueInterval]("20..100 N·m"), Graduation: units.NewtonMetre.OfInt(rapid.Int64Range(1, 5).Draw(t, "graduation")), Accuracy: units.MustParseRatio("4 %")}
	if rapid.Bool().Draw(t, "with an extension") {
		e := drawExtension(t)
		w.Extension = &e
	}
	return w
}

func drawExtension(t *rapid.T) preload.Extension {
	return preload.Extension{Lever: units.MustParseLength("412 mm"), Offset: units.Millimetre.OfInt(rapid.Int64Range(0, 90).Draw(t, "offset")), Angle: units.MustParseAngle("1/3 turn")}
}

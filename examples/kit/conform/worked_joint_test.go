package conform

import (
	"fmt"
	"math/big"
	"strconv"
)

// workedJoints are bolted joints: what is set, what holds, what is left.
func workedJoints(b *bench) {
	for n := range 24 {
		target, lever, offset := rat([]string{"40", "65.5", "110"}[n%3]), rat([]string{"300", "425"}[n%2]), rat([]string{"0", "55", "142.5"}[n/2%3])
		angle := []string{"0", "90", "180", "60"}[n/3%4]
		cosine := map[string]string{"0": "1", "90": "0", "180": "-1", "60": "1/2"}[angle]
		set := over(times(target, lever), plus(lever, times(offset, rat(cosine))))
		unit := []string{"N·m", "lbf·ft"}[n/2%2]
		b.add("torque", "setting", "setting", obj{"torque": dec(target) + " " + unit, "lever": dec(lever) + " mm", "offset": dec(offset) + " mm", "angle": angle + "°", "unit": unit}, obj{"set": digits(set)},
			map[string]string{"set": "0.000001"}, "a millionth of the unit: nobody sets a wrench to more", "torque × lever / (lever + offset × cos), and cos is "+cosine)
	}
	for _, x := range [][2]string{{"42", "1.6"}, {"41.9", "1"}, {"30", "4"}, {"17", "2.5"}, {"25", "1.2"}} {
		least := over(rat(x[0]), rat(x[1]))
		b.add("torque", "least preload", "least", obj{"largest": x[0] + " kN", "factor": x[1], "unit": "kN"}, obj{"preload": digits(least)}, map[string]string{"preload": "0.00000001"}, "a hundredth of a millinewton", "the largest over the factor")
	}
	// The rows of the table begin at 10 and at 40 µm: just below, on and above.
	for _, x := range []struct{ roughness, thread, head, inner string }{
		{"0.5", "3", "3", "2"}, {"9.999", "3", "3", "2"}, {"10", "3", "4.5", "2.5"}, {"39.999", "3", "4.5", "2.5"}, {"40", "3", "6.5", "3.5"}, {"159", "3", "6.5", "3.5"},
	} {
		const table = "VDI 2230-1:2003, table 5, shear: below 10 µm, from 10 to below 40, from 40 to below 160"
		for _, at := range [][2]string{{"thread", x.thread}, {"head or nut", x.head}, {"inner joint", x.inner}} {
			b.add("torque", "embedding", "embedding", obj{"place": at[0], "load": "shear", "roughness": x.roughness + " µm"}, obj{"embedding": at[1]}, nil, "", table)
		}
		for faces := 1; faces <= 2; faces++ {
			sum := plus(plus(rat(x.thread), times(rat(strconv.Itoa(faces)), rat(x.head))), times(rat("3"), rat(x.inner)))
			loss := times(sum, rat("0.1205")) // kN/µm
			b.add("torque", "embedding loss", "embedding-loss", obj{"load": "shear", "roughness": x.roughness + " µm", "faces": faces, "inner": 3, "stiffness": "120.5 kN/mm", "unit": "kN"},
				obj{"loss": dec(loss)}, map[string]string{"loss": "0.00000001"}, "a hundredth of a millinewton", table+"; one thread, each face and three inner joints, times the stiffness")
		}
	}
	// kb/(kb + km) is 1/4; the parts come apart at Fi/(1 - 1/4).
	for _, x := range [][3]string{{"30", "0.004", "30.001"}, {"30", "12", "33"}, {"30", "40", "40"}, {"30", "39.96", "39.99"}, {"30", "41", "41"}, {"30", "-12", "27"}} {
		q := obj{"bolt": "200 kN/mm", "members": "600 kN/mm", "preload": x[0] + " kN", "outer": x[1] + " kN", "area": nil, "unit": "kN"}
		force := rat(x[2])
		b.add("torque", "loaded bolt", "loaded", q, obj{"force": x[2]}, map[string]string{"force": "0.00000001"}, "a hundredth of a millinewton", "30 + 1/4 of the load, until the parts come apart at 40, and from there on the load itself")
		stressed := obj{"bolt": "200 kN/mm", "members": "600 kN/mm", "preload": x[0] + " kN", "outer": x[1] + " kN", "area": "50 mm2", "unit": "MPa"}
		b.add("torque", "loaded bolt", "loaded", stressed, obj{"stress": digits(times(force, rat("20")))}, map[string]string{"stress": "0.0000001"}, "a ten-millionth of a megapascal", "the same over 50 mm²")
	}
	for _, x := range [][3]string{{"0.3", "150", "12"}, {"0.0117", "100", "11.7"}, {"0.25", "200", "16.6"}} {
		rise := over(rat(x[0]), times(rat(x[1]), times(rat(x[2]), rat("1e-6"))))
		for _, unit := range [][2]string{{"K", "1"}, {"°F", "9/5"}} {
			b.add("torque", "heating", "heating", obj{"stretch": x[0] + " mm", "length": x[1] + " mm", "per_kelvin": x[2] + "e-6", "unit": unit[0]}, obj{"rise": digits(times(rise, rat(unit[1])))},
				map[string]string{"rise": "0.000001"}, "a millionth of a degree", "stretch / (length × coefficient), a difference of temperature")
		}
	}
	for _, x := range []struct {
		threads  []string
		sizes    [][2]string
		friction string
	}{{[]string{"M10"}, [][2]string{{"10", "1.5"}}, "0.1"}, {[]string{"M8x1", "M12"}, [][2]string{{"8", "1"}, {"12", "1.75"}}, "0.14"}} {
		sum := new(big.Rat)
		for _, s := range x.sizes {
			d, p, mu := rat(s[0]), rat(s[1]), rat(x.friction)
			d2 := minus(d, times(times(rat("3/8"), rootOf(rat("3"))), p))
			lever := plus(plus(over(p, times(rat("2"), pi())), times(times(rat("0.577"), d2), mu)), times(times(rat("0.65"), d), mu))
			sum.Add(sum, over(lever, d))
		}
		mean := over(sum, big.NewRat(int64(len(x.sizes)), 1))
		b.add("torque", "mean nut factor", "mean-factor", obj{"threads": x.threads, "friction": x.friction}, obj{"factor": mean.FloatString(12)}, map[string]string{"factor": "0.0000001"},
			"the height of the profile is given to few digits", "the mean of (P/2π + 0.577 d2 µ + 0.65 d µ)/d, d2 = d - 3/4 H")
	}
	for _, x := range [][3]string{{"8.8", "M10", "580/640"}, {"8.8", "M16", "580/640"}, {"8.8", "M18", "600/660"}, {"10.9", "M10", "830/940"}, {"12.9", "M12", "970/1100"}, {"5.8", "M8", "380/420"}} {
		b.add("threads", "strength", "proof-ratio", obj{"thread": x[1], "class": x[0]}, obj{"proof_ratio": digits(rat(x[2]))}, nil, "", "ISO 898-1:2013, table 3: the stress under proof load over the yield strength, "+x[2])
	}
	for _, x := range [][4]string{{"25 H7/h6", "50", "50", "50"}, {"25 H7/g6", "50", "49.993", "50.007"}, {"25 H11/d11", "120.5", "120.435", "120.565"}, {"40 H8/f7", "80", "79.975", "80.025"}} {
		b.add("isofit", "centres", "centres", obj{"fit": x[0], "centres": x[1] + " mm"}, obj{"smallest": x[2], "largest": x[3]}, nil, "",
			"ISO 286-2: h ends at 0, g at -7 µm, d at -65 µm in 18 to 30 mm, f at -25 µm in 30 to 50 mm; H begins at 0. Each of two pins gives half of the smallest clearance")
	}
}

// workedProcedures are printed procedures, stage by stage.
func workedProcedures(b *bench) {
	for _, x := range []struct {
		stages []string
		of     []string // what each bolt gets in a stage; upper case once for all
	}{
		{[]string{"tighten 30 N·m"}, []string{"tighten"}},
		{[]string{"prepare", "tighten 30 N·m", "check 0.05..0.10 mm"}, []string{"PREPARE", "tighten", "CHECK"}},
		{[]string{"tighten 20..24 lbf·ft", "turn 90°", "turn 60 ±5 °"}, []string{"tighten", "mark turn", "mark turn"}},
		{[]string{"prepare", "tighten 70 N·m", "back off", "tighten 20 N·m", "check >= 0.04 mm", "turn 90..100 °"}, []string{"PREPARE", "tighten", "loosen", "tighten", "CHECK", "mark turn"}},
	} {
		for _, bolts := range []int{1, 2, 7} {
			var actions []any
			for _, what := range x.of {
				switch what {
				case "PREPARE":
					actions = append(actions, "prepare")
				case "CHECK":
					actions = append(actions, "check")
				case "mark turn":
					actions = append(actions, fmt.Sprint("mark ", bolts), fmt.Sprint("turn ", bolts))
				default:
					actions = append(actions, fmt.Sprint(what, " ", bolts))
				}
			}
			b.add("plan", "actions", "actions", obj{"bolts": bolts, "stages": x.stages}, obj{"actions": actions}, nil, "", "the list, stage by stage, each bolt counted")
		}
	}
	stages := []string{"prepare", "tighten 28..34 N·m", "back off", "tighten 54 lbf·ft", "check 0.012..0.020 in", "turn 60 ±5 °", "turn 90..100 °", "check >= 0.5 mm"}
	for _, x := range []struct {
		stage int
		unit  string
		want  obj
	}{
		{2, "N·m", obj{"aim": "31", "lo": "28", "hi": "34"}}, {6, "°", obj{"aim": "60", "lo": "55", "hi": "65"}}, {6, "rev", obj{"aim": "1/6", "lo": "55/360", "hi": "65/360"}},
		{5, "mm", obj{"aim": nil, "lo": "0.3048", "hi": "0.508"}}, {4, "lbf·in", obj{"aim": "648", "lo": nil, "hi": nil}}, {7, "°", obj{"aim": "95", "lo": "90", "hi": "100"}},
		{8, "mm", obj{"aim": nil, "lo": "0.5", "hi": nil}},
	} {
		for key, text := range x.want {
			if t, is := text.(string); is {
				x.want[key] = digits(rat(t))
			}
		}
		b.add("plan", "stage", "stage", obj{"stages": stages, "stage": x.stage, "unit": x.unit}, x.want, nil, "", "the limits as they are written, and their middle; a figure alone is an aim without limits")
	}
	for _, x := range []struct {
		stages []string
		angle  string
	}{{stages, "155"}, {[]string{"tighten 30 N·m"}, "0"}, {[]string{"tighten 30 N·m", "turn 45°", "turn 45°", "turn 30°"}, "120"}} {
		b.add("plan", "turned", "turned", obj{"stages": x.stages, "unit": "°"}, obj{"angle": x.angle}, nil, "", "the middles of the turns, added")
	}
	inner, side := []string{"tighten 5 N·m", "tighten 30 N·m", "turn 90 °"}, []string{"tighten 30 N·m", "tighten 40 N·m"}
	for during := 1; during <= 3; during++ {
		for n := 1; n <= 2; n++ {
			var steps []any
			for i := range inner {
				steps = append(steps, []any{"inner", strconv.Itoa(i + 1)})
				if i+1 == during {
					steps = append(steps, []any{"side", "1"})
				}
			}
			if n == 2 {
				steps = append(steps, []any{"side", "2"})
			}
			b.add("plan", "tied", "tied", obj{"inner": inner, "side": side[:n], "during": during}, obj{"steps": steps}, nil, "", "the first stage of the side bolts after that stage of the inner ones; what is left of them at the end")
		}
	}
	// Bolts all round a circle are one ring, whatever their number.
	for _, n := range []int{5, 6, 7, 9, 12} {
		var order []any
		for _, i := range starBy(n) {
			order = append(order, strconv.Itoa(i+1))
		}
		for _, by := range []string{"inside out", "outside in"} {
			b.add("plan", "order", "wheel", obj{"positions": places(n, "circle"), "order": by}, obj{"order": order}, nil, "", "the smallest circle that holds them goes through all: one ring, evenly round, so the star of the page")
		}
	}
}

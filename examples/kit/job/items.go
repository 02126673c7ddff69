package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/torque"
	"example.com/closefit/units/measure"
)

// covers reports whether the excuse is for the item of that name: for it alone, or for
// the line or the quantity that it belongs to.
func (e Excuse) covers(item string) bool {
	return item == e.What || isAt(item, e.What)
}

// isAt reports whether an item is one place of what the name says: "main bearing 2
// clearance" of "main bearing clearance".
func isAt(item, name string) bool {
	words := strings.Fields(name)
	for n := 1; n <= len(words); n++ {
		head, tail := strings.Join(words[:n], " "), strings.Join(words[n:], " ")
		if strings.HasPrefix(item, head+" ") && (tail == "" || strings.HasSuffix(item, " "+tail)) {
			return true
		}
	}
	return false
}

// itemNames are the names of everything that has to be known of the engine.
func (j *Job) itemNames() []string {
	var names []string
	for _, i := range j.expected() {
		names = append(names, i.Name)
	}
	return names
}

// expected are the items that follow from the engine, whatever was read: none of them
// proven yet.
func (j *Job) expected() []Item {
	n := 1
	for _, m := range j.lines {
		if m.expected {
			n += len(m.quantities()) * len(m.at)
		}
	}
	items := make([]Item, 0, n)
	for _, m := range j.lines {
		if !m.expected {
			continue
		}
		for _, q := range m.quantities() {
			for _, location := range m.at {
				items = append(items, newItem(m.group, location, q.quantity, m.before))
			}
		}
	}
	for i := range j.shells {
		items = append(items, j.shellItems(&j.shells[i])...)
	}
	for _, set := range j.bolts {
		for _, c := range set.bolts {
			i := newItem(set.group, c.bolt, "", Final)
			i.Bolt = c.bolt
			items = append(items, i)
		}
	}
	return append(items, newItem("tightening plan", "", "", Final))
}

// newItem is an item of which nothing is known yet.
func newItem(group, location, quantity string, before Phase) Item {
	return Item{Name: itemName(group, location, quantity), Group: group, Location: location, Quantity: quantity, Before: before, Standing: NotMeasured}
}

// items are the expected items with what is known of them.
func (j *Job) items(a *Assessment) []Item {
	items := j.expected()
	at := make(map[string]*Item, len(items))
	for i := range items {
		at[items[i].Name] = &items[i]
	}
	set := func(name string, s Standing, format string, args ...any) {
		if i, ok := at[name]; ok {
			i.Standing, i.Why = s, fmt.Sprintf(format, args...)
		}
	}
	for _, l := range a.Looked {
		switch {
		case l.open:
			set(l.Name(), NotMeasured, "%s", l.State)
		case l.Good:
			set(l.Name(), Proven, "%s", l.State)
		default:
			set(l.Name(), Wrong, "%s", l.State)
		}
	}
	for _, g := range a.Groups {
		for i := range g.Findings {
			f := &g.Findings[i]
			set(f.Name(), f.standing(), "%s", f.summary())
		}
	}
	for _, s := range a.Shells {
		for _, at := range s.Locations {
			set(itemName(s.Bearings, at.Location, "shells"), at.Standing, "%s", at.Why)
		}
	}
	for _, b := range j.bolts {
		for _, c := range b.bolts {
			s, why := c.standing(b, a)
			set(itemName(b.group, c.bolt, ""), s, "%s", why)
		}
	}
	if j.plan != nil {
		set("tightening plan", Proven, "%d steps", len(j.plan.Steps()))
	} else {
		set("tightening plan", NotMeasured, "none; write [[tightening]]")
	}
	for i := range items {
		if e := slices.IndexFunc(j.excuses, func(e Excuse) bool { return e.covers(items[i].Name) }); e >= 0 && items[i].Standing != Proven && !items[i].scrap() {
			items[i].Excuse = &j.excuses[e]
		}
	}
	return items
}

// needless says which words stand for nothing, because everything that they are for is
// proven. They are kept, and serve again if that changes.
func (j *Job) needless(items []Item) []Action {
	var said []Action
	for _, e := range j.excuses {
		proven, bolts := 0, 0
		covered := slices.DeleteFunc(slices.Clone(items), func(i Item) bool { return !e.covers(i.Name) })
		for _, i := range covered {
			if i.Standing == Proven {
				proven++
			}
			if i.Bolt != "" {
				bolts++
			}
		}
		if proven == 0 || proven < len(covered) {
			continue
		}
		done, table := "accepted", "[[accepted]]"
		if e.LeftOut {
			done, table = "left out", "[[left_out]]"
		}
		but := ""
		if bolts > 0 {
			but = "; only a bolt that is proven wrong it does not let through"
		}
		said = append(said, Action{GoOn, fmt.Sprintf("%s: proven, and %s by %s all the same: its %s can be taken out. While it stands it opens the gate again, should a later reading not prove it%s.", e.What, done, e.By, table, but)})
	}
	return said
}

// standing is what is known of a bolt: whether it may be used.
func (c boltCheck) standing(set boltSet, a *Assessment) (Standing, string) {
	var f *Finding
	for _, g := range a.Groups {
		for i := range g.Findings {
			if g.Name == set.group && g.Quantity == set.quantity && g.Findings[i].Location == c.bolt {
				f = &g.Findings[i]
			}
		}
	}
	switch {
	case c.state == "scrap":
		return Wrong, "scrap: fit a new one"
	case c.state == "new":
		return Proven, "new"
	case set.use == torque.SingleUse && (c.state != "" || c.entry.reading.Taken()):
		return Wrong, "used, and its group is used once: fit a new one"
	case f != nil && f.Verdict.Outside():
		return Wrong, "scrap: fit a new one"
	case f != nil && f.Verdict == measure.Conforming:
		return Proven, f.summary()
	case f != nil && f.Taken:
		return Undecided, f.summary()
	case set.quantity != "" && c.state == "sound":
		return NotMeasured, "sound, and not measured; its group has a limit"
	case c.state == "sound":
		return Proven, "looked at, and sound"
	}
	if set.use == torque.SingleUse {
		return NotMeasured, fmt.Sprintf("not known to be new; its group is used once: write it under bolts.%s: new", key(set.group))
	}
	return NotMeasured, fmt.Sprintf("not known to be new or sound; write it under bolts.%s: new, sound, or its length", key(set.group))
}

// scrap reports whether the item is a bolt that is proven wrong: nobody's word makes it
// good, and only another bolt in its place does.
func (i Item) scrap() bool { return i.Bolt != "" && i.Standing == Wrong }

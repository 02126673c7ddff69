//go:build !nobrowser

package main

import (
	"strings"
	"testing"

	"example.com/closefit/internal/thorough"
)

// On a metric job a micrometer in inches is read by touch alone: the unit is a choice beside the number, which stays with the
// instrument, changes nothing that was typed, and leaves the others theirs.
func TestUnits(t *testing.T) {
	thorough.Long(t)
	b := onSmallPhone(t, "lock-gate")
	now := func() string { return b.Run(t, `document.getElementById("unit").textContent`) }
	b.opens("#missing", "reading", "main journal", "4")
	if got := b.Run(t, `[...document.querySelectorAll("#units button")].map(e => e.textContent).join()`); got != `"mm,in"` || now() != `"mm"` {
		t.Errorf("a journal is read in %s, at first in %s", got, now())
	}
	b.types("2.2976")
	b.tap("#unit")
	if got := b.Run(t, `document.activeElement.dataset.unitIs + document.getElementById("unit").ariaExpanded`); got != `"mmtrue"` {
		t.Errorf("the units open with the focus at %s", got)
	}
	for _, fault := range b.Faults(t, "the units") {
		t.Error(fault)
	}
	b.tap(`#units [data-unit-is="in"]`)
	b.is(`document.getElementById("units").hidden && document.activeElement.id === "typed" && document.getElementById("unit").ariaLabel === "unit: in"`)
	if got := b.Run(t, `document.getElementById("typed").value`); got != `"2.2976"` {
		t.Errorf("the number became %s", got)
	}
	b.stores()
	if got := b.Run(t, `document.getElementById("in-missing").textContent`); strings.Contains(got, "Main journal") {
		t.Errorf("it is not read: %s", got)
	}
	// What was stored in inches opens in them, and the same instrument goes on in them.
	b.tap(`[data-at="main 4"]`)
	b.tap(`#sheet-body [data-line="main journal"]`)
	if got := b.Run(t, `document.getElementById("typed").value`); got != `"2.2976"` || now() != `"in"` {
		t.Errorf("it opens as %s %s", got, now())
	}
	b.tap("#close")
	b.tap(`[data-at="rod 1"]`)
	b.tap(`#sheet-body [data-line="rod journal"]`)
	if now() != `"mm"` {
		t.Errorf("the ball micrometer is in %s", now())
	}
	b.tap(`#sheet-body [data-with="micrometer"]`)
	if now() != `"in"` {
		t.Errorf("the micrometer is in %s", now())
	}
	// Limits are small or large, by what they are of; what they are typed in leaves the instruments alone.
	b.tap("#close")
	b.tap(`[data-at="main 1"]`)
	b.tap(`#sheet-body [data-line="main bearing clearance"]`)
	b.tap(`#sheet-body [data-key="limits"]`)
	if got := b.Run(t, `[...document.querySelectorAll("#units button")].map(e => e.textContent).join()`); got != `"mm,\u00b5m,in,thou"` || now() != `"mm"` {
		t.Errorf("limits of a clearance are typed in %s, at first in %s", got, now())
	}
}

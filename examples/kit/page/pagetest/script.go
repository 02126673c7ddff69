package pagetest

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"example.com/closefit/internal/thorough"
)

// Served serves a site and returns what a script says in its first page: an expression, whose
// promise is awaited, read from JSON. The processor is slowed down so many times; 1 is as fast
// as it is.
func Served[T any](t testing.TB, b *Browser, site http.Handler, slow float64, script string) T {
	t.Helper()
	server := httptest.NewServer(site)
	t.Cleanup(server.Close)
	return At[T](t, b, server.URL+"/", slow, script)
}

// At is Served for an address, such as that of a file.
func At[T any](t testing.TB, b *Browser, address string, slow float64, script string) (v T) {
	t.Helper()
	ctx, end := chromedp.NewContext(b.ctx)
	t.Cleanup(end)
	p := &tab{ctx: ctx}
	do(t, p, call(emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: slow}), chromedp.Navigate(address))
	text := within(t, p, 4*thorough.Patience, chromedp.Evaluate[[]byte](script, chromedp.EvalAwaitPromise))
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return v
}

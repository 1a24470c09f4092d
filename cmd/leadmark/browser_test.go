package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"leadmark/testdata"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// The desk in a real browser: Chromium of the system, driven through its own protocol. Screenshots
// go to the folder $LEADMARK_SHOTS where it is set.

// browser is one Chromium, and the desk it looks at.
type browser struct {
	ctx  context.Context
	desk string // address of the desk, without a slash at the end
}

// startBrowser starts Chromium; a test without it is skipped, and fails where it does not start.
func startBrowser(t testing.TB) context.Context {
	t.Helper()
	name := "chromium"
	for _, other := range []string{"google-chrome", "chromium-browser", "chromium"} {
		if _, err := exec.LookPath(other); err == nil {
			name = other
		}
	}
	path := testdata.Program(t, name, "chromium")
	o := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path),
		chromedp.Flag("disable-gpu", true), chromedp.Flag("force-color-profile", "srgb"),
		chromedp.WSURLReadTimeout(patience))
	if os.Geteuid() == 0 {
		o = append(o, chromedp.NoSandbox)
	}
	alloc, stopAlloc := chromedp.NewExecAllocator(t.Context(), o...)
	ctx, stop := chromedp.NewContext(alloc)
	t.Cleanup(func() { stop(); stopAlloc() })
	if err := chromedp.Run(ctx); err != nil {
		t.Fatalf("Chromium is installed and does not start: %v", err)
	}
	return ctx
}

// startDesk starts the desk over a folder, in this process, and returns its address.
func startDesk(t *testing.T, folder, rigs string, flags ...string) string {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	var out, said safeBuffer
	done := make(chan error, 1)
	go func() {
		done <- run(ctx, append([]string{"desk", folder, "--no-open", "--rigs", rigs}, flags...), &out, &said)
	}()
	t.Cleanup(func() {
		stop()
		if err := <-done; err != nil {
			t.Errorf("the desk ended with %v\n%s", err, said.String())
		}
	})
	address := regexp.MustCompile(`http://[^\s/]+`)
	out.await(t, "the desk's address", address.MatchString)
	return address.FindString(out.String())
}

// tab opens a page in a tab of its own and fails the test on any script error or refused resource.
func (b browser) tab(t testing.TB, path string, width, height int64) context.Context {
	t.Helper()
	ctx, stop := chromedp.NewContext(b.ctx)
	t.Cleanup(stop)
	chromedp.ListenTarget(ctx, func(e any) {
		switch e := e.(type) {
		case *runtime.EventExceptionThrown:
			t.Errorf("%s: %s", path, e.ExceptionDetails.Error())
		case *page.EventJavascriptDialogOpening:
			t.Errorf("%s: a dialog opened: %s", path, e.Message)
		}
	})
	if err := chromedp.Run(ctx); err != nil { // without a time limit: the tab lives as long as this context
		t.Fatalf("opening a tab: %v", err)
	}
	do(t, ctx, emulation.SetDeviceMetricsOverride(width, height, 1, width < 500), chromedp.Navigate(b.desk+path),
		chromedp.WaitReady("main"))
	return ctx
}

// patience is when a test gives up what never happens.
const patience = 5 * time.Minute

// do runs actions.
func do(t testing.TB, ctx context.Context, actions ...chromedp.Action) {
	t.Helper()
	within, stop := context.WithTimeout(ctx, patience)
	defer stop()
	if err := chromedp.Run(within, actions...); err != nil {
		t.Fatalf("in the browser: %v", err)
	}
}

// value is what an expression gives in the page.
func value[T any](t testing.TB, ctx context.Context, expression string) T {
	t.Helper()
	var v T
	do(t, ctx, chromedp.Evaluate(expression, &v,
		func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }))
	return v
}

// until has the page itself wait until an expression is true, or the promise that it is.
func until(t testing.TB, ctx context.Context, what, expression string) {
	t.Helper()
	untilWithin(t, ctx, patience, what, expression)
}

func untilWithin(t testing.TB, ctx context.Context, patience time.Duration, what, expression string) {
	t.Helper()
	within, stop := context.WithTimeout(ctx, patience)
	defer stop()
	// A page that is just loading has nothing yet.
	holds := chromedp.Poll("(async () => { try { return Boolean(await ("+expression+")) } catch { return "+
		"false } })()", nil,
		chromedp.WithPollingInterval(40*time.Millisecond), chromedp.WithPollingTimeout(0))
	for within.Err() == nil {
		if chromedp.Run(within, holds) == nil {
			return
		} // else it went away under the question, to the next page
	}
	t.Fatalf("waited in vain for %s; the page says: %s", what,
		value[string](t, ctx, "document.body.innerText.slice(0, 1500)"))
}

// untilDesk asks again whenever the desk says that a run changed, until what is asked for is there.
func (b browser) untilDesk(t *testing.T, run, what string, there func() bool) {
	t.Helper()
	within, stop := context.WithTimeout(t.Context(), patience)
	defer stop()
	r, err := http.NewRequestWithContext(within, "GET", b.desk+"/run/"+run+"/events", nil)
	if err != nil {
		t.Fatal(err)
	}
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	for lines := bufio.NewScanner(a.Body); lines.Scan(); {
		if strings.HasPrefix(lines.Text(), "data:") && there() {
			return
		}
	}
	t.Fatalf("waited in vain for %s", what)
}

// look chooses a theme.
func look(t testing.TB, ctx context.Context, name string) {
	t.Helper()
	do(t, ctx, chromedp.Evaluate(fmt.Sprintf("document.documentElement.dataset.look = %q", name), nil))
}

// screenshot keeps a screenshot where one is wanted.
func screenshot(t testing.TB, ctx context.Context, name string) {
	t.Helper()
	dir := os.Getenv("LEADMARK_SHOTS")
	if dir == "" {
		return
	}
	var png []byte
	do(t, ctx, page.BringToFront()) // or nothing is drawn
	value[int](t, ctx, `(async () => {
		await document.fonts.ready;
		await Promise.allSettled([...document.images].map((i) => i.decode()).concat(document.getAnimations().map((a) => a.finished)));
		await new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)));
		return 1;
	})()`)
	do(t, ctx, chromedp.CaptureScreenshot(&png))
	if err := os.WriteFile(filepath.Join(dir, name+".png"), png, 0o666); err != nil {
		t.Fatal(err)
	}
}

// axe is the accessibility checker's script (axe-core 4.14.1, MPL-2.0).
func axe(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("testdata/axe.min.js.gz")
	if err != nil {
		t.Fatal(err)
	}
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// checkPage runs axe-core over a page in both themes, and checks what axe does not: no text under
// 14 px, nothing wider than the window.
func checkPage(t *testing.T, ctx context.Context, script, name string) {
	t.Helper()
	do(t, ctx, chromedp.Evaluate(script+";0", nil))
	for _, theme := range []string{"bright", "dim"} {
		look(t, ctx, theme)
		// the rest does not depend on the theme
		rules := map[string]string{"bright": `["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]`, "dim": `["color-contrast"]`}[theme]
		found := value[string](t, ctx,
			`axe.run(document, {resultTypes: ["violations"], runOnly: `+rules+`}).then((r) => JSON.stringify(r.violations.map((v) => ({id: v.id, help: v.help, nodes: v.nodes.slice(0, 4).map((n) => n.html + " | " + n.failureSummary)}))))`)
		var list []struct {
			ID, Help string
			Nodes    []string
		}
		if err := json.Unmarshal([]byte(found), &list); err != nil {
			t.Fatalf("%s: axe said %q", name, found)
		}
		for _, v := range list {
			t.Errorf("%s, %s: %s: %s\n  %s", name, theme, v.ID, v.Help, strings.Join(v.Nodes, "\n  "))
		}
		for _, w := range value[[]string](t, ctx, tooSmall) {
			t.Errorf("%s, %s: %s", name, theme, w)
		}
	}
}

// tooSmall lists texts drawn smaller than 14 px, by their font size and the scale of the drawing
// they stand in, and what makes the page wider than the window.
const tooSmall = `(() => {
  const out = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement, s = getComputedStyle(e);
    if (!walk.currentNode.data.trim() || !e.checkVisibility({visibilityProperty: true, opacityProperty: true}) ||
	e.closest(".unseen, .skip, script, option, title")) continue;
    let k = 1;
    const svg = e.closest("svg");
    if (svg && e.getScreenCTM) { const m = e.getScreenCTM(); k = Math.hypot(m.a, m.b); }
    const px = parseFloat(s.fontSize) * k;
    if (px < 13.9) out.push("text of " + px.toFixed(1) + " px: " + walk.currentNode.data.trim().slice(0, 40) +
	" in " + e.tagName + "." + e.getAttribute("class"));
  }
  if (document.documentElement.scrollWidth > innerWidth + 1) out.push("the page is " +
	document.documentElement.scrollWidth + " px wide in a window of " + innerWidth);
  return out.slice(0, 8);
})()`

// drag presses the mouse at one place of the window and lets it go at another.
func drag(t *testing.T, ctx context.Context, x0, y0, x1, y1 float64) {
	t.Helper()
	mouse := func(kind input.MouseType, x, y float64, button input.MouseButton) chromedp.Action {
		return input.DispatchMouseEvent(kind, x, y).WithButton(button).WithClickCount(1)
	}
	do(t, ctx, mouse(input.MouseMoved, x0, y0, input.None), mouse(input.MousePressed, x0, y0, input.Left))
	for k := 1.0; k <= 8; k++ {
		do(t, ctx, mouse(input.MouseMoved, x0+(x1-x0)*k/8, y0+(y1-y0)*k/8, input.Left))
	}
	do(t, ctx, mouse(input.MouseReleased, x1, y1, input.Left))
}

// submit submits a form as its button does.
func submit(form string) chromedp.Action {
	return chromedp.Evaluate(fmt.Sprintf("document.querySelector(%q).requestSubmit()", form), nil)
}

// fill puts a text into a field, as typing does.
func fill(field, text string) chromedp.Action {
	return chromedp.Evaluate(fmt.Sprintf("(() => { const e = document.querySelector(%q); e.value = %q; "+
		"e.dispatchEvent(new Event('input', {bubbles: true})); })()", field, text), nil)
}

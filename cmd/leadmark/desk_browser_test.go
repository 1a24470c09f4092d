package main

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"leadmark/calib/plan/subject"
	"leadmark/calib/runfile"
)

const rigText = `[camera]
sensor_mm = [23.5, 15.6]
pixels = [6000, 4000]
sync_s = 0.005
iso = 200
[lens]
focal_mm = 100
closest_mm = 300
f_numbers = [2.8, 32]
[[flash]]
name = "key"
lights = "subject"
guide_number_m = 40
powers = ["1/1", "1/128"]
power = "1/64"
distance_mm = 300
loss_stops = 1.5
t01_us = { "1/1" = 2800, "1/64" = 45, "1/128" = 30 }
`

// TestDeskInTheBrowser goes the way of a photographer: a run that another process copies in, a
// frame put right by dragging, the result accepted, the rig's chart, the plan; several pages see
// the same all along, and each is checked for what hinders people.
func TestDeskInTheBrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("drives a browser")
	}
	ctx := startBrowser(t)
	from := smallRun(t, 5)
	nights, rigs := t.TempDir(), t.TempDir()
	if err := os.MkdirAll(filepath.Join(rigs, "greenhouse"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(rigs, "greenhouse", "rig.toml"), []byte(rigText), 0o666); err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(nights, "night1")
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	copyFile(t, from, dir, "run.toml", 1)
	copyFile(t, from, dir, "shots.csv", 1)
	b := browser{ctx: ctx, desk: startDesk(t, nights, rigs)}
	script := axe(t)

	one := b.tab(t, "/run/night1", 1440, 900)
	until(t, one, "what to do in an empty run",
		`document.getElementById("next").textContent.includes("Drop the ruler")`)
	checkPage(t, one, script, "an empty run")
	screenshot(t, one, "run-empty-1440")

	// Another process copies the frames in, each in pieces.
	copying := exec.Command("sh", "-c",
		`for f in "$1"/*.JPG; do head -c 60000 "$f" > "$2/$(basename "$f")"; cat "$f" > "$2/$(basename "$f")"; done`, "sh", from, dir)
	if out, err := copying.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	until(t, one, "eight frames", `document.querySelectorAll("#tiles > li").length === 8`)
	until(t, one, "the lag", `document.getElementById("lag").textContent.includes("ms")`)
	until(t, one, "the trail", `document.querySelector("#trail svg path.band")`)
	until(t, one, "the result of all",
		`fetch("/run/night1/state").then((r) => r.json()).then((s) => s.trail.at(-1)?.n === 8)`)
	two := b.tab(t, "/run/night1", 390, 844)
	for _, tab := range []context.Context{one, two} {
		until(t, inFront(t, tab), "on both pages what the desk says",
			`fetch("/run/night1/state").then((r) => r.json()).then((s) => {
			const shown = (id) => document.getElementById(id).textContent.replaceAll("\u00a0", " ");
			return shown("lag") === s.answer.find((a) => a.Key === "lag").Value.replaceAll("\u00a0", " ") &&
				shown("count") === "8 read" && shown("next") === s.next.Text;
		})`)
	}
	screens(t, b, "run", "/run/night1",
		`document.querySelector("#figures figure") && [...document.querySelectorAll("#latest img")].every((i) => i.complete)`)
	checkPage(t, one, script, "a run")
	checkPage(t, two, script, "a run on a phone")

	t.Run("put right", func(t *testing.T) { putRight(t, b, script, dir) })
	t.Run("accept", func(t *testing.T) { acceptAndChart(t, b, script) })
	t.Run("plan", func(t *testing.T) { planIt(t, b, script, nights) })
	t.Run("shoot", func(t *testing.T) { shootSheet(t, b, script, from, nights) })
	t.Run("hostile name", func(t *testing.T) { hostileName(t, b, script, from, nights) })
	t.Run("begin", func(t *testing.T) { beginOne(t, b, script, nights) })
}

// screens takes a page at three sizes in both themes, where screenshots are wanted.
func screens(t *testing.T, b browser, name, path, ready string) {
	t.Helper()
	if os.Getenv("LEADMARK_SHOTS") == "" {
		return
	}
	for _, size := range [][2]int64{{1440, 900}, {1024, 768}, {390, 844}} {
		tab := b.tab(t, path, size[0], size[1])
		until(t, tab, name, ready)
		for _, theme := range []string{"bright", "dim"} {
			look(t, tab, theme)
			screenshot(t, tab, fmt.Sprintf("%s-%d-%s", name, size[0], theme))
		}
	}
}

// putRight drags a front end with the mouse and moves it with the keyboard; the file, the result
// and the other page follow, and all is taken back.
func putRight(t *testing.T, b browser, script, dir string) {
	const file = "IMG_0002.JPG"
	path := "/run/night1/frame/" + file
	screens(t, b, "frame", path, `document.querySelector("#stage .grip.front")`)
	tab := b.tab(t, path, 1440, 900)
	until(t, tab, "the front end", `document.querySelector("#stage .grip.front")`)
	checkPage(t, tab, script, "a frame")
	before := value[string](t, tab, `document.getElementById("verdict").textContent`)
	do(t, tab, chromedp.Click("#to-front"))
	until(t, tab, "the close view", `document.getElementById("zoom").textContent.startsWith("8 ")`)
	screenshot(t, tab, "frame-close")
	at := value[[]float64](t, tab,
		`(() => { const c = document.querySelector("#stage .grip.front circle"), s = document.getElementById("stage").getBoundingClientRect(); return [s.left + Number(c.getAttribute("cx")), s.top + Number(c.getAttribute("cy"))]; })()`)
	drag(t, tab, at[0], at[1], at[0]-160, at[1]) // 20 px of the picture at 8 screen pixels to one
	until(t, tab, "another reading", fmt.Sprintf(`document.getElementById("verdict").textContent !== %q`, before))
	c, err := runfile.LoadCorrections(dir)
	if err != nil || c.Of(file).Front == nil {
		t.Fatalf("corrections.toml after dragging: %+v, %v", c, err)
	}
	moved := c.Of(file).Front.X
	do(t, tab, chromedp.Evaluate(`document.querySelector("#stage .grip.front").focus()`, nil))
	// At one go: the page keeps one move of keys that follow each other closely.
	do(t, tab,
		chromedp.Evaluate(`for (let i = 0; i < 3; i++) document.querySelector("#stage .grip.front").dispatchEvent(new KeyboardEvent("keydown", {key: "ArrowRight", bubbles: true}))`, nil))
	b.untilDesk(t, "night1", "the keyboard's move on the disk", func() bool {
		c, err := runfile.LoadCorrections(dir)
		return err == nil && c.Of(file).Front != nil && c.Of(file).Front.X > moved+2
	})
	for range 2 {
		until(t, tab, "something to take back", `!document.getElementById("undo").disabled`)
		do(t, tab, chromedp.Evaluate(`document.getElementById("undo").click()`, nil))
		until(t, tab, "the desk's answer", `document.getElementById("slip").textContent.includes("taken back")`)
		do(t, tab, chromedp.Evaluate(`document.querySelector("#slip p").textContent = ""`, nil))
	}
	until(t, tab, "the reading as it was", fmt.Sprintf(`document.getElementById("verdict").textContent === %q`, before))
	if _, err := os.Stat(filepath.Join(dir, runfile.CorrectionsFileName)); err == nil {
		t.Error("corrections.toml is still there after all was taken back")
	}
	do(t, tab, chromedp.SendKeys(`#out input`, "a bee flew through"), submit("#out"))
	until(t, tab, "the frame left out", `document.getElementById("verdict").textContent === "left out"`)
	do(t, tab, chromedp.Click("#mark"))
	until(t, tab, "the two points", `document.querySelectorAll("#stage .grip.mark").length === 2`)
	screenshot(t, tab, "frame-marking")
	checkPage(t, tab, script, "marking the ruler")
	do(t, tab, chromedp.Evaluate(`document.getElementById("undo").click()`, nil))
	until(t, tab, "the frame read again", `document.getElementById("verdict").textContent.includes("mm")`)
}

// acceptAndChart accepts the result and looks at the rig.
func acceptAndChart(t *testing.T, b browser, script string) {
	tab := b.tab(t, "/run/night1", 1440, 900)
	until(t, tab, "a result to accept", `!document.querySelector("#accept button").disabled`)
	do(t, tab, chromedp.SendKeys(`#accept input`, `<b>first</b> night`), submit("#accept"))
	until(t, tab, "the acceptance",
		`document.getElementById("slip").textContent.includes("calibration 1 of greenhouse")`)
	do(t, tab, submit("#accept"))
	until(t, tab, "the second", `document.getElementById("slip").textContent.includes("calibration 2 of greenhouse")`)
	rigs := b.tab(t, "/rig/greenhouse", 1440, 900)
	until(t, rigs, "the chart", `document.querySelector(".figures svg")`)
	if text := value[string](t, rigs, `document.querySelector("tbody").innerText`); !strings.Contains(text,
		"<b>first</b> night") {
		t.Errorf("the note is not shown as it was written: %q", text)
	}
	checkPage(t, rigs, script, "a rig")
	screens(t, b, "rig", "/rig/greenhouse", `document.querySelector(".figures svg")`)
	do(t, rigs, chromedp.Click(`[data-restore="1"]`))
	until(t, rigs, "the first put back",
		`document.getElementById("slip").textContent.includes("Calibration 1 is in force")`)
	// it is shown for a while only
	do(t, rigs, chromedp.Evaluate(`document.querySelector("#slip button").click()`, nil))
	until(t, rigs, "the second again", `document.querySelector("tr.force th")?.textContent === "2"`)
	list := b.tab(t, "/rigs", 1024, 768)
	checkPage(t, list, script, "the rigs")
}

// planIt changes a value and sees another set, and saves the subject.
func planIt(t *testing.T, b browser, script, nights string) {
	tab := b.tab(t, "/plan", 1440, 900)
	until(t, tab, "the drawn set", `document.querySelector("#drawing img").naturalWidth > 0`)
	until(t, tab, "the answers", `document.querySelector("#sections dl")`)
	screens(t, b, "plan", "/plan",
		`document.querySelector("#drawing img").naturalWidth > 0 && document.querySelector("#sections dl")`)
	checkPage(t, tab, script, "the plan")
	before := value[string](t, tab,
		`document.getElementById("head").textContent + document.querySelector("#drawing img").src`)
	do(t, tab, fill("#plan [name=speed_mps]", "2.5"))
	until(t, tab, "another plan",
		fmt.Sprintf(`document.getElementById("head").textContent + document.querySelector("#drawing img").src !== %q`, before))
	do(t, tab, chromedp.SendKeys(`#save input`, "fast bee"), submit("#save"))
	until(t, tab, "the saved subject", `document.getElementById("slip").textContent.includes("fast bee.toml")`)
	if text, err := os.ReadFile(filepath.Join(nights, "fast bee.toml")); err != nil ||
		!strings.Contains(string(text), "speed_mps = 2.5") {
		t.Errorf("the subject's file: %v\n%s", err, text)
	}
}

// beginOne makes a run by the form.
func beginOne(t *testing.T, b browser, script, nights string) {
	tab := b.tab(t, "/start", 1440, 900)
	until(t, tab, "a plan for the goal", `document.querySelectorAll("#batches li").length > 0`)
	checkPage(t, tab, script, "the beginning of a run")
	screens(t, b, "start", "/start", `document.querySelectorAll("#batches li").length > 0`)
	do(t, tab, fill("#start [name=name]", "night 2"), submit("#start"))
	until(t, tab, "the new run's page", `location.pathname === "/run/night%202"`)
	if _, err := runfile.Load(filepath.Join(nights, "night 2"), runfile.Overrides{}); err != nil {
		t.Errorf("the run that was made: %v", err)
	}
	home := b.tab(t, "/", 390, 844)
	checkPage(t, home, script, "the first page")
	screens(t, b, "home", "/", `true`)
	checkPage(t, b.tab(t, "/shoots", 1024, 768), script, "the shoots, none")
	checkPage(t, b.tab(t, "/run/nothing", 1024, 768), script, "a page that is not there")
}

// shootSheet looks at a shoot that was checked: what is drawn over the frames, and sifting them.
func shootSheet(t *testing.T, b browser, script, from, nights string) {
	dir := filepath.Join(nights, "bees1")
	for _, d := range []string{dir, dir + "-check"} {
		if err := os.Mkdir(d, 0o777); err != nil {
			t.Fatal(err)
		}
	}
	bee, err := subject.PresetText("mason-bee")
	if err != nil {
		t.Fatal(err)
	}
	var frames []string
	for i := range 8 {
		name := fmt.Sprintf("IMG_000%d.JPG", i+1)
		copyFile(t, from, dir, name, 1)
		frames = append(frames,
			fmt.Sprintf(`{"file": %q, "status": "found", "whole": %v, "box_px": [[%d, 400], [%d, 520]], "nose_px": [%[4]d, 460], "lead_mm": %d, "in_reach": true, "edge_width_px": 2.%d, "sharp": %v, "rating": %d, "reason": %q}`,
				name, i%3 != 0, 400+40*i, 620+40*i, 40+5*i, i, i%2 == 0, i%6,
				[]string{"", "soft: the edges are wider than they should be"}[i%2]))
	}
	for path, text := range map[string]string{
		filepath.Join(dir, "bee.toml"): string(bee),
		filepath.Join(dir, "shoot.toml"): "rig = \"greenhouse\"\nsubject = \"bee.toml\"\ntravel = " +
			"\"right\"\npx_per_mm = 9.3\n[trip]\nline_px = [[270, 0], [270, 1087]]\n",
		filepath.Join(dir+"-check", "shoot.json"): `{"schema": "leadmark/shoot/1", "frames": [` +
			strings.Join(frames, ",") +
			`], "subject": {"n": 8, "censored": 0, "speed_mps": 1.31, "speed_interval95_mps": [1.1, 1.5], "speed_sd_mps": 0.24},
			"agreement": {"expected_in_reach": 0.95, "observed": 0.875, "observed_interval95": [0.47, 0.99],
				"n": 8, "p_value": 0.34}, "warnings": [], "advice": ["Move the field 5 mm on."]}`,
	} {
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	tab := b.tab(t, "/shoot/bees1", 1440, 900)
	until(t, tab, "the frames", `document.querySelectorAll("#tiles > li").length === 8`)
	until(t, tab, "outline and reach over the first",
		`document.querySelector("#tiles .over-m .body") && document.querySelector("#tiles .over-m .reach")`)
	until(t, tab, "the learned speed", `document.getElementById("speed").textContent.includes("1.31")`)
	checkPage(t, tab, script, "a shoot")
	screens(t, b, "shoot", "/shoot/bees1", `document.querySelector("#tiles .over-m .body")`)
	do(t, tab,
		chromedp.Evaluate(`(() => { const f = document.getElementById("sift"); f.elements.least.value = "4"; f.dispatchEvent(new Event("input")); })()`, nil))
	until(t, tab, "only the best", `document.querySelectorAll("#tiles > li").length === 2`)
	list := b.tab(t, "/shoots", 390, 844)
	checkPage(t, list, script, "the shoots")
}

// hostileName shows a picture whose name is markup, and one that is black: neither runs anything,
// and the black one says what to change.
func hostileName(t *testing.T, b browser, script, from, nights string) {
	const name = `<img src=x onerror=alert(1)>.jpg`
	dir := filepath.Join(nights, "hostile")
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	copyFile(t, from, dir, "run.toml", 1)
	if err := os.WriteFile(filepath.Join(dir, name), blackJPEG(t), 0o666); err != nil {
		t.Fatal(err)
	}
	tab := b.tab(t, "/run/hostile", 390, 844)
	until(t, tab, "the frame and what to "+
		"change", `document.getElementById("bad").textContent.includes("flash did not fire")`)
	checkPage(t, tab, script, "a run with a bad frame")
	screenshot(t, tab, "run-bad-390")
	screens(t, b, "bad", "/run/hostile", `!document.getElementById("bad").hidden`)
	frame := b.tab(t, "/run/hostile/frame/"+url.PathEscape(name), 1024, 768)
	until(t, frame, "its name as text", fmt.Sprintf(`document.querySelector("h1").textContent === %q`, name))
	until(t, frame, "what it says", `document.getElementById("verdict").textContent === "not read"`)
	for _, page := range []context.Context{tab, frame} {
		if value[bool](t, page, `Boolean(document.querySelector("img[src=x], [onerror]"))`) {
			t.Error("a name became markup")
		}
		if !value[bool](t, page, fmt.Sprintf(`document.body.innerText.includes(%q)`, name)) {
			t.Error("the name is not shown as it is")
		}
	}
}

// blackJPEG is what a camera writes when no head fires.
func blackJPEG(t *testing.T) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, image.NewGray(image.Rect(0, 0, 800, 600)), nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// inFront puts a page in front: one that nobody can see is told nothing, and catches up when it is
// shown.
func inFront(t *testing.T, tab context.Context) context.Context {
	t.Helper()
	do(t, tab, page.BringToFront())
	return tab
}

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"leadmark/cmd/leadmark/terminal"
)

// hostile is a name that sets a terminal's title, clears it, turns text around and holds bytes that
// are no text.
const hostile = "a\x1b]0;title\ab\x1b[2Jc\u202ed\x9be\r\u2066\u2028\u200b\u007f\u0085"

// hostileSeen is how it is printed.
const hostileSeen = `a\u001b]0;title\u0007b\u001b[2Jc\u202ed\x9be\u000d\u2066\u2028\u200b\u007f\u0085`

// harmless says whether a text holds nothing but characters that can be seen, blanks, tabs and line
// feeds.
func harmless(text string) bool {
	return utf8.ValidString(text) && !strings.ContainsFunc(text, func(r rune) bool {
		return r != '\n' && r != '\t' && !unicode.IsPrint(r) && !unicode.Is(unicode.Zs, r)
	})
}

// Names and notes of others reach the terminal with everything that would act on it made visible:
// of files, keys, subjects, rigs, calibrations and what is given on the command line.
func TestNamesAreShownAndDoNotAct(t *testing.T) {
	t.Chdir(t.TempDir())
	valid := strings.ToValidUTF8(hostile, "?")
	text := strings.ReplaceAll(valid, "\r", "")   // of a file of text, which may not hold every character as it is
	quoted := `"` + terminal.Escaped(valid) + `"` // as TOML has it
	readings := "frame,advance_mm,u_mm,drop_mm\n"
	for i, line := range []string{"87.277,0.06,100", "85.693,0.06,100", "86.645,0.06,100", "142.001,0.06,300",
		"139.788,0.06,300", "137.459,0.06,300", "192.988,0.06,600", "195.545,0.06,600", "191.843,0.06,600"} {
		readings += "IMG_" + string(rune('1'+i)) + ".JPG," + line + "\n"
	}
	bee := strings.Replace(beeTOML, `"mason bee"`, quoted, 1)
	for path, content := range map[string]string{
		"pictures/" + hostile + ".jpg": "no picture",
		"night/" + hostile + ".jpg":    "no picture",
		"night/run.toml": "rig = \"shed\"\nmethod = \"drop\"\ntravel = " +
			"\"right\"\n[ruler]\ngraduation_mm = 1\n[conditions]\ndrop_mm = 400\n",
		"key/run.toml":             "rig = \"greenhouse\"\nmethod = \"drop\"\n" + quoted + " = 1\n",
		"rigs/greenhouse/rig.toml": "[camera]\n" + quoted + " = 1\n",
		"good/run.toml":            "rig = \"shed\"\nmethod = \"drop\"\n[conditions]\nu_drop_mm = 1\n",
		"good/readings.csv":        readings,
		"shots/run.toml":           "rig = \"shed\"\nmethod = \"drop\"\ntravel = \"right\"\n",
		"shots/shots.csv":          "frame,drop_mm\n\"" + text + "\",400\n",
		"rigs/shed/rig.toml":       "",
		"bee.toml":                 bee,
		"bad.toml":                 bee + quoted + " = \"\"\n",
		"bees/bee.toml":            bee,
		"bees/" + hostile + ".jpg": "no picture",
		"bees/shoot.toml": "subject = \"bee.toml\"\ntravel = \"right\"\npx_per_mm = 10\nexit_px " +
			"= [100, 260]\n" + quoted + " = 1\n[trip]\nline_px = [[100, 0], [100, 559]]\n",
	} {
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(content), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		args  string // HOSTILE stands for the name
		shows string // a part of it that must be seen; "" where the command need not name it
	}{
		{"read pictures", hostileSeen},
		{"read pictures --json", ""},
		{"read HOSTILE", hostileSeen},
		{"calibrate night", hostileSeen},
		{"calibrate HOSTILE", hostileSeen},
		{"calibrate key", `\u202e`},
		{"calibrate shots", `\u202e`},
		{"rig show greenhouse", `\u202e`},
		{"rig show HOSTILE", `\u202e`},
		{"rig new HOSTILE", `\u202e`},
		{"calibrate good --readings good/readings.csv --accept --note HOSTILE", ""},
		{"calibrate good --readings good/readings.csv --accept --json --note HOSTILE", ""},
		{"rig history shed", `c\u202e`},
		{"rig history shed --json", `c\u202e`},
		{"rig show shed", `c\u202e`},
		{"rig show shed --json", `c\u202e`},
		{"rig restore shed 1 --note HOSTILE", ""},
		{"rig history shed", `c\u202e`},
		{"rig compare shed 1 HOSTILE", `\u202e`},
		{"plan --subject bee.toml --lag-ms 52 --spread-ms 1", `c\u202e`},
		{"plan --subject bee.toml --lag-ms 52 --spread-ms 1 --json", `c\u202e`},
		{"plan --subject bad.toml --lag-ms 52 --spread-ms 1", `c\u202e`},
		{"plan --preset HOSTILE --lag-ms 52 --spread-ms 1", `\u202e`},
		{"plan --colour HOSTILE --preset mason-bee --lag-ms 52 --spread-ms 1", `\u202e`},
		{"check bees --lag-ms 52 --spread-ms 1", `\u202e`},
		{"read --graduation-mm HOSTILE x", `\u202e`},
		{"read --HOSTILE x", `\u202e`},
		{"HOSTILE", `\u202e`},
		{"help HOSTILE", `\u202e`},
		{"rig HOSTILE", `\u202e`},
	} {
		args := append(strings.Fields(c.args), "--rigs", "rigs")
		for i := range args {
			args[i] = strings.ReplaceAll(args[i], "HOSTILE", hostile)
		}
		var out, said bytes.Buffer
		code := status(args, &out, &said)
		if !harmless(out.String()) || !harmless(said.String()) {
			t.Errorf("%s: printed as it is: %q %q", c.args, &out, &said)
		}
		if all := out.String() + said.String(); !strings.Contains(all, c.shows) {
			t.Errorf("%s: status %d, does not show %s: %q", c.args, code, c.shows, all)
		}
	}
}

package frame

import (
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"leadmark/testdata"
)

func TestCompareNamesByExample(t *testing.T) {
	ordered := []string{
		"", "1", "01", "2", "10", "IMG_1.JPG", "img_2.jpg", "IMG_9.JPG", "IMG_10.jpg",
		"IMG_10b.jpg", "IMG_100.JPG",
		"IMG_99999999999999999999998.JPG", "IMG_99999999999999999999999.JPG", "night1-2.jpg",
		"night1-10.jpg", "night2-1.jpg", "été.jpg",
	}
	for i, a := range ordered {
		for j, b := range ordered {
			got, want := CompareNames(a, b), min(1, max(-1, i-j))
			if got != want {
				t.Errorf("%q against %q: %d, want %d", a, b, got, want)
			}
		}
	}
}

// randomName draws from few letters, so that ties and near ties come up.
func randomName(r *rand.Rand) string {
	b := make([]byte, r.IntN(8))
	for i := range b {
		b[i] = "aAbB0019_."[r.IntN(10)]
	}
	return string(b)
}

// A total order: antisymmetric, transitive, and 0 only between equal names.
func TestCompareNamesIsATotalOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 200_000 {
		a, b, c := randomName(r), randomName(r), randomName(r)
		if CompareNames(a, b) != -CompareNames(b, a) || (CompareNames(a, b) == 0) != (a == b) {
			t.Fatalf("%q and %q have no one order", a, b)
		}
		if CompareNames(a, b) < 0 && CompareNames(b, c) < 0 && CompareNames(a, c) >= 0 {
			t.Fatalf("%q < %q < %q, but not the first and the last", a, b, c)
		}
	}
}

func TestShuffledCounterComesBackInOrder(t *testing.T) {
	var names []string
	for i := range 1200 {
		names = append(names, strings.Repeat("0",
			i%3)+"x"[:i%2]+"IMG_"+string(rune('0'+i%10))+".jpg")
	}
	want := slices.Clone(names)
	slices.SortFunc(want, CompareNames)
	rand.New(rand.NewPCG(5, 6)).Shuffle(len(names), func(i, j int) {
		names[i], names[j] = names[j],
			names[i]
	})
	slices.SortFunc(names, CompareNames)
	if !slices.Equal(names, want) {
		t.Error("the order depends on where the sort began")
	}
}

// GNU sort's version order is the same on names of one shape: letters, an underline, a number
// without leading zeros.
func TestCompareNamesAgainstGNUSort(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	var names []string
	for range 500 {
		n := r.IntN(100_000)
		names = append(names, []string{"img", "dsc", "bee"}[r.IntN(3)]+"_"+itoa(n))
	}
	cmd := exec.Command(testdata.Program(t, "sort", "coreutils", "-V", os.DevNull))
	cmd.Args = append(cmd.Args, "-V")
	cmd.Env = append(cmd.Environ(), "LC_ALL=C")
	cmd.Stdin = strings.NewReader(strings.Join(names, "\n") + "\n")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	slices.SortFunc(names, CompareNames)
	if got := strings.Join(names, "\n") + "\n"; got != string(out) {
		t.Error("the order is not that of sort -V")
	}
}

func itoa(n int) string {
	if n < 10 {
		return string(rune('0' + n))
	}
	return itoa(n/10) + itoa(n%10)
}

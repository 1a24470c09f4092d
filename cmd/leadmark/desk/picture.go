package desk

import (
	"bytes"
	"context"
	"image/jpeg"
	"io"
	"mime"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"leadmark/calib"
	"leadmark/calib/follow"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/vision/frame"
	"leadmark/vision/frame/integrity"
	"leadmark/vision/ruler"
)

// frameOf is the frame of a run that a request names.
func (s *Server) frameOf(r *http.Request) (*session, calib.FrameResult, error) {
	run, err := s.session(r.PathValue("run"))
	if err != nil {
		return nil, calib.FrameResult{}, err
	}
	f, err := run.frame(r.PathValue("file"))
	return run, f, err
}

// clip answers with the small picture of the part of a frame that shows the ruler, as it was made
// while the frame was read; its place in the frame stands in the state.
func (s *Server) clip(w http.ResponseWriter, r *http.Request) error {
	run, f, err := s.frameOf(r)
	if err != nil {
		return err
	}
	c, err := run.memory.Clips(r.Context(), f.Frame)
	if err != nil || len(c.Small.JPEG) == 0 || f.Reason.Code == follow.CodeOutside {
		return notFound("there is no small picture of this frame")
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Content-Length", strconv.Itoa(len(c.Small.JPEG)))
	_, err = w.Write(c.Small.JPEG)
	return err
}

// picture answers with a frame of a run, whole.
func (s *Server) picture(w http.ResponseWriter, r *http.Request) error {
	run, f, err := s.frameOf(r)
	if err != nil {
		return err
	}
	return s.show(w, r, run.dir, f.Frame)
}

// show answers with a picture of a folder: the file itself where browsers read its kind, else as JPEG.
func (s *Server) show(w http.ResponseWriter, r *http.Request, dir string, f frame.Frame) error {
	file, err := s.places.open(dir, f.Name)
	if err != nil {
		return err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return err
	}
	if info.Size() > integrity.MaxBytes {
		return notFound("the picture is too large to be shown")
	}
	picture, err := shown(file, f)
	if err != nil {
		return err
	}
	// The kind goes by the first bytes, and only pictures are shown, whatever the name says.
	head := make([]byte, 512)
	n, _ := io.ReadFull(picture, head)
	switch kind := http.DetectContentType(head[:n]); kind {
	case "image/jpeg", "image/png":
		w.Header().Set("Content-Type", kind)
		w.Header().Set("Content-Disposition", mime.FormatMediaType("inline", map[string]string{"filename": f.Name}))
		_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(5 * answerTime))
		http.ServeContent(w, r, "", time.Time{}, picture)
		return nil
	}
	if ext := strings.ToLower(filepath.Ext(f.Name)); ext != ".tif" && ext != ".tiff" || f.Format == "" {
		return notFound("this file is no picture that can be shown")
	}
	return s.convert(r.Context(), w, f)
}

// shown is the picture of a file: of a frame that was read the very bytes that were, as what was
// found is drawn over them. A frame that could not be read, and one of a shoot, is shown as it lies
// there.
func shown(file *os.File, f frame.Frame) (io.ReadSeeker, error) {
	if f.Digest == "" {
		return file, nil
	}
	data, err := f.Picture(file, nil)
	if err != nil {
		return nil, refused(http.StatusConflict, "the picture is not the one that was read: "+err.Error(),
			"wait until it is read anew, and open it again")
	}
	return bytes.NewReader(data), nil
}

// convert shows a TIFF, which browsers do not, as JPEG.
func (s *Server) convert(ctx context.Context, w http.ResponseWriter, f frame.Frame) error {
	img, err := s.o.Picture(ctx, f, 1<<16)
	if err != nil {
		return notFound("the picture cannot be decoded")
	}
	w.Header().Set("Content-Type", "image/jpeg")
	return jpeg.Encode(w, img, &jpeg.Options{Quality: 95})
}

// marksView is all that is drawn over a frame that is looked at large.
type marksView struct {
	frameView
	Rev      int          `json:"rev"`
	Lines    []tickView   `json:"lines"`             // every graduation
	Outline  [][2]float64 `json:"outline,omitempty"` // of the ruler found
	AxisX    float64      `json:"axis_x"`            // unit vector of the ruler's axis
	AxisY    float64      `json:"axis_y"`
	FrontAt  *[2]float64  `json:"front_at,omitempty"` // where the front end meets the long axis
	PxPerMM  float64      `json:"px_per_mm,omitempty"`
	HandAt   *[2]float64  `json:"hand_at,omitempty"` // where a person placed it
	RulerBy  *strokeView  `json:"ruler_by,omitempty"`
	LeftOut  string       `json:"left_out,omitempty"`
	Settings string       `json:"settings,omitempty"`
}

type tickView struct {
	MM    float64    `json:"mm"`
	At    strokeView `json:"at"`
	Whole bool       `json:"whole"`
}

// marks answers with what was found in a frame.
func (s *Server) marks(w http.ResponseWriter, r *http.Request) error {
	run, f, err := s.frameOf(r)
	if err != nil {
		return err
	}
	v := marksView{frameView: viewFrame(f), Lines: []tickView{}, Settings: settingsOf(f.Frame)}
	run.mu.Lock()
	v.Rev = run.rev
	put := run.run.Corrections.Of(f.Name)
	run.mu.Unlock()
	v.LeftOut = put.LeftOut
	if p := put.Front; p != nil {
		v.HandAt = &[2]float64{p.X, p.Y}
	}
	if l := put.Ruler; l != nil {
		m := strokeOf(l.A, l.B)
		v.RulerBy = &m
	}
	if f.Reading.Status == ruler.StatusRead {
		v.found(f)
	}
	answer(w, http.StatusOK, v)
	return nil
}

func (v *marksView) found(f calib.FrameResult) {
	for _, t := range annotate.MarksOf(f, 14, 0).Graduations {
		v.Lines = append(v.Lines, tickView{tenth(t.Reading * 1e3), strokeOf(t.A, t.B), t.Whole})
	}
	for _, p := range f.Reading.Outline {
		v.Outline = append(v.Outline, [2]float64{tenth(p.X), tenth(p.Y)})
	}
	d := f.Reading.Scale.Dir
	v.AxisX, v.AxisY = d.X, d.Y
	if e := f.Reading.Front; e != nil {
		v.FrontAt = &[2]float64{tenth(e.At.X), tenth(e.At.Y)}
	}
	v.PxPerMM = f.Reading.PxPerM * 1e-3
}

// settingsOf is how a frame was taken, in one line.
func settingsOf(f frame.Frame) string {
	var parts []string
	if f.Make+f.Model != "" {
		parts = append(parts, strings.TrimSpace(f.Make+" "+f.Model))
	}
	number := func(format string, x float64) {
		if x > 0 {
			parts = append(parts, strings.Replace(format, "#", strconv.FormatFloat(x, 'g', 4, 64), 1))
		}
	}
	number("# s", f.Exposure)
	number("f/#", f.FNumber)
	number("ISO #", float64(f.ISO))
	number("# mm", f.Focal*1e3)
	return strings.Join(parts, ", ")
}

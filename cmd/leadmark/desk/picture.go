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
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/desk/live"
	"leadmark/cmd/leadmark/desk/reply"
	"leadmark/vision/frame"
	"leadmark/vision/frame/integrity"
)

// frameOf is the frame of a run that a request names.
func (s *Server) frameOf(r *http.Request) (*live.Run, calib.FrameResult, error) {
	run, err := s.run(r.PathValue("run"))
	if err != nil {
		return nil, calib.FrameResult{}, err
	}
	f, err := run.Frame(r.PathValue("file"))
	return run, f, err
}

// clip answers with the small picture of the part of a frame that shows the ruler, as it was made
// while the frame was read; its place in the frame stands in the state.
func (s *Server) clip(w http.ResponseWriter, r *http.Request) error {
	run, f, err := s.frameOf(r)
	if err != nil {
		return err
	}
	c, err := run.Clips(r.Context(), f.Frame)
	if err != nil || len(c.Small.JPEG) == 0 || f.Reason.Code == follow.CodeOutside {
		return reply.NotFound("there is no small picture of this frame")
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
	return s.show(w, r, run.Dir, f.Frame)
}

// show answers with a picture of a folder: the file itself where browsers read its kind, else as
// JPEG.
func (s *Server) show(w http.ResponseWriter, r *http.Request, dir string, f frame.Frame) error {
	file, err := s.places.OpenFile(dir, f.Name)
	if err != nil {
		return err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return err
	}
	if info.Size() > integrity.MaxBytes {
		return reply.NotFound("the picture is too large to be shown")
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
		return reply.NotFound("this file is no picture that can be shown")
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
		return nil, reply.Refused(http.StatusConflict,
			"the picture is not the one that was read: "+words.Err(err).Error(),
			"wait until it is read anew, and open it again")
	}
	return bytes.NewReader(data), nil
}

// convert shows a TIFF, which browsers do not, as JPEG.
func (s *Server) convert(ctx context.Context, w http.ResponseWriter, f frame.Frame) error {
	img, err := s.o.Picture(ctx, f, 1<<16)
	if err != nil {
		return reply.NotFound("the picture cannot be decoded")
	}
	w.Header().Set("Content-Type", "image/jpeg")
	return jpeg.Encode(w, img, &jpeg.Options{Quality: 95})
}

package vision
import ("testing";"image/png";"os";"fmt";"leadmark/ruler/rulertest";"leadmark/ruler")
func TestDevViews(t *testing.T){
 for i:=uint64(0);i<8;i++{
  v:=rulertest.CodeViewAt(7,i)
  im,tr:=rulertest.Render(v.Scene)
  f,_:=os.Create(fmt.Sprintf("/tmp/x/views/%d.png",i)); png.Encode(f,im); f.Close()
  s:=sight(grayOf(im),ruler.Hint{})
  r:=ruler.Interpret(s,ruler.Spec{})
  fmt.Println(i,v.Classes,len(s.Rows),r.Status,r.Reason,r.Coded,r.Absolute,len(tr.Graduations), v.From)
 }
}

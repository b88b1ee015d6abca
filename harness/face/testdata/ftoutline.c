/* Prints every glyph's unhinted outline in font units as FreeType reads it, the
   second opinion of the face tests.
   usage: ftoutline FONT INDEX STEP
   STEP 20 prints every twentieth glyph. */
#include <stdio.h>
#include <stdlib.h>
#include <ft2build.h>
#include FT_FREETYPE_H

int main(int argc, char **argv) {
  FT_Library lib;
  FT_Face face;
  if (argc < 4 || FT_Init_FreeType(&lib) || FT_New_Face(lib, argv[1], atoi(argv[2]), &face)) return 1;
  printf("f %d %ld\n", face->units_per_EM, face->num_glyphs);
  for (long g = 0; g < face->num_glyphs; g += atoi(argv[3])) {
    int e = FT_Load_Glyph(face, g, FT_LOAD_NO_SCALE | FT_LOAD_NO_HINTING | FT_LOAD_NO_BITMAP);
    FT_Outline *o = &face->glyph->outline;
    if (e) {
      printf("g %ld -1 0 0\n", g);
      continue;
    }
    printf("g %ld %d %d %ld\n", g, o->n_points, o->n_contours, face->glyph->metrics.horiAdvance);
    for (int i = 0; i < o->n_points; i++)
      printf("%ld %ld %d\n", o->points[i].x, o->points[i].y, FT_CURVE_TAG(o->tags[i]));
    for (int i = 0; i < o->n_contours; i++) printf("%d\n", o->contours[i]);
  }
  return 0;
}

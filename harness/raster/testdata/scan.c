/* Draws outlines with FreeType: the second opinion of the raster tests.
   usage: scan FONT   (any font: its glyph slot is borrowed for the outlines)
   Reads 32-bit little-endian integers, for each outline:
     points, contours, grey (0 or 1), flags (FT_OUTLINE_...),
     x y tag for each point in 26.6 px, the last point of each contour.
   Writes 32-bit integers: error, left, top, width, rows; then the rows, a byte for
   8 pixels, or for 1 in grey. */
#include <stdio.h>
#include <stdlib.h>
#include <stdint.h>
#include <ft2build.h>
#include FT_FREETYPE_H
#include FT_OUTLINE_H

static int32_t in(void) {
  int32_t v;
  if (fread(&v, 4, 1, stdin) != 1) exit(0);
  return v;
}

int main(int argc, char **argv) {
  FT_Library lib;
  FT_Face face;
  if (argc < 2 || FT_Init_FreeType(&lib) || FT_New_Face(lib, argv[1], 0, &face) || FT_Set_Pixel_Sizes(face, 8, 8)) return 1;
  for (;;) {
    FT_Outline o = {0};
    o.n_points = in();
    o.n_contours = in();
    int grey = in();
    o.flags = in();
    o.points = calloc(o.n_points + 1, sizeof *o.points);
    o.tags = calloc(o.n_points + 1, 1);
    o.contours = calloc(o.n_contours + 1, sizeof *o.contours);
    for (int i = 0; i < o.n_points; i++) {
      o.points[i].x = in();
      o.points[i].y = in();
      o.tags[i] = in();
    }
    for (int i = 0; i < o.n_contours; i++) o.contours[i] = in();
    if (FT_Load_Glyph(face, 0, FT_LOAD_NO_HINTING)) return 1;
    FT_GlyphSlot slot = face->glyph;
    FT_Outline own = slot->outline;
    slot->outline = o;
    int32_t error = FT_Render_Glyph(slot, grey ? FT_RENDER_MODE_NORMAL : FT_RENDER_MODE_MONO);
    FT_Bitmap *b = &slot->bitmap;
    int32_t head[5] = {error, slot->bitmap_left, slot->bitmap_top, b->width, b->rows};
    if (error) head[3] = head[4] = 0;
    fwrite(head, 4, 5, stdout);
    for (int y = 0; y < head[4]; y++) fwrite(b->buffer + y * b->pitch, 1, grey ? b->width : (b->width + 7) / 8, stdout);
    fflush(stdout);
    slot->outline = own;
    free(o.points);
    free(o.tags);
    free(o.contours);
  }
}

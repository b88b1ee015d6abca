/* Prints, for glyphs of a font, the outline that FreeType scan-converts and the
   bitmap that it makes of it: the raster tests' second opinion.
   usage: ftmono FONT PPEM_26_6 SCANTYPE HIGH
   SCANTYPE is the dropout mode to force: 0, 1, 4, 5, or 2 for none. */
#include <stdio.h>
#include <stdlib.h>
#include <ft2build.h>
#include FT_FREETYPE_H
#include FT_OUTLINE_H

int main(int argc, char **argv) {
  FT_Library lib;
  FT_Face face;
  if (argc < 5 || FT_Init_FreeType(&lib) || FT_New_Face(lib, argv[1], 0, &face)) return 1;
  FT_Size_RequestRec r = {FT_SIZE_REQUEST_TYPE_NOMINAL, atoi(argv[2]), atoi(argv[2]), 0, 0};
  if (FT_Request_Size(face, &r)) return 1;
  int mode = atoi(argv[3]), high = atoi(argv[4]);
  for (int g = 0; g < face->num_glyphs; g++) {
    if (FT_Load_Glyph(face, g, FT_LOAD_NO_HINTING | FT_LOAD_NO_BITMAP | FT_LOAD_TARGET_MONO)) continue;
    FT_Outline *o = &face->glyph->outline;
    if (face->glyph->format != FT_GLYPH_FORMAT_OUTLINE || o->n_points == 0) continue;
    o->flags &= ~(FT_OUTLINE_IGNORE_DROPOUTS | FT_OUTLINE_SMART_DROPOUTS | FT_OUTLINE_INCLUDE_STUBS | FT_OUTLINE_HIGH_PRECISION);
    if (mode & 2) o->flags |= FT_OUTLINE_IGNORE_DROPOUTS;
    if (mode & 4) o->flags |= FT_OUTLINE_SMART_DROPOUTS;
    if (!(mode & 1)) o->flags |= FT_OUTLINE_INCLUDE_STUBS;
    if (high) o->flags |= FT_OUTLINE_HIGH_PRECISION;
    printf("g %d %d %d\n", g, o->n_points, o->n_contours);
    for (int i = 0; i < o->n_points; i++)
      printf("%ld %ld %d\n", o->points[i].x, o->points[i].y, FT_CURVE_TAG(o->tags[i]));
    for (int i = 0; i < o->n_contours; i++) printf("%d\n", o->contours[i]);
    if (FT_Render_Glyph(face->glyph, FT_RENDER_MODE_MONO)) return 1;
    FT_Bitmap *b = &face->glyph->bitmap;
    printf("b %d %d %u %u\n", face->glyph->bitmap_left, face->glyph->bitmap_top, b->width, b->rows);
    for (unsigned y = 0; y < b->rows; y++) {
      for (unsigned x = 0; x < b->width; x++)
        putchar(b->buffer[y * b->pitch + x / 8] >> (7 - x % 8) & 1 ? '#' : '.');
      putchar('\n');
    }
  }
  return 0;
}

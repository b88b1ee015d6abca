/* Prints the outline of every glyph of a face as FreeType's interpreter 35
   leaves it for bilevel output: the second opinion of points_test.go.

   usage: points FONT INDEX PPEM_X PPEM_Y [fresh]   (ppem in 64ths of a pixel)

   fresh runs the control value program before each glyph: what a damaged glyph
   leaves in the twilight zone, FreeType would hand on to the next.

   The answer is 32-bit little-endian integers. First 0x534D4F4B, the number of
   glyphs. Per glyph: FreeType's error or 0; advance in 26.6 px; outline flags;
   number of points; number of contours; x, y, 1 where on the curve, per point;
   last point per contour. Y grows up. A face without a program is left to it, not to
   the autohinter. hdmx is renamed in memory: FreeType would
   repeat it instead of telling what the program made of the advance. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <ft2build.h>
#include FT_FREETYPE_H
#include FT_MODULE_H
#include FT_OUTLINE_H

static void put(long v)
{
  unsigned u = (unsigned)v;
  putchar(u & 255); putchar(u >> 8 & 255); putchar(u >> 16 & 255); putchar(u >> 24);
}

static unsigned long be32(const unsigned char *p)
{
  return (unsigned long)p[0] << 24 | p[1] << 16 | p[2] << 8 | p[3];
}

static void hide_hdmx(unsigned char *b, long size, long index)
{
  unsigned long at = 0, n;
  if (!memcmp(b, "ttcf", 4)) at = be32(b + 12 + 4 * index);
  for (n = b[at + 4] << 8 | b[at + 5], at += 12; n > 0 && (long)at + 16 <= size; n--, at += 16)
    if (!memcmp(b + at, "hdmx", 4)) b[at + 3] = 'X';
}

static unsigned char *slurp(const char *path, long *size)
{
  FILE *f = fopen(path, "rb");
  unsigned char *b;
  if (!f || fseek(f, 0, SEEK_END) || (*size = ftell(f)) < 12) exit(2);
  rewind(f);
  b = malloc(*size);
  if (!b || fread(b, 1, *size, f) != (size_t)*size) exit(2);
  fclose(f);
  return b;
}

int main(int argc, char **argv)
{
  FT_Library lib;
  FT_Face face;
  FT_UInt version = 35, g;
  FT_Size_RequestRec size = { FT_SIZE_REQUEST_TYPE_NOMINAL, 0, 0, 0, 0 };
  long bytes;
  unsigned char *font;

  if (argc < 5) return 2;
  font = slurp(argv[1], &bytes);
  hide_hdmx(font, bytes, atol(argv[2]));
  size.width = atol(argv[3]);
  size.height = atol(argv[4]);
  if (FT_Init_FreeType(&lib) || FT_Property_Set(lib, "truetype", "interpreter-version", &version) ||
      FT_New_Memory_Face(lib, font, bytes, atol(argv[2]), &face) || FT_Request_Size(face, &size)) return 3;
  put(0x534D4F4B);
  put(face->num_glyphs);
  for (g = 0; g < (FT_UInt)face->num_glyphs; g++) {
    FT_Outline *o = &face->glyph->outline;
    FT_Error e;
    int i, points, contours;
    if (argc > 5 && FT_Request_Size(face, &size)) return 3;
    e = FT_Load_Glyph(face, g, FT_LOAD_TARGET_MONO | FT_LOAD_NO_BITMAP | FT_LOAD_NO_AUTOHINT);
    points = e ? 0 : o->n_points;
    contours = e ? 0 : o->n_contours;
    put(e);
    put(e ? 0 : face->glyph->metrics.horiAdvance);
    put(e ? 0 : o->flags);
    put(points);
    put(contours);
    for (i = 0; i < points; i++) {
      put(o->points[i].x);
      put(o->points[i].y);
      put(o->tags[i] & 1);
    }
    for (i = 0; i < contours; i++) put(o->contours[i]);
  }
  return 0;
}

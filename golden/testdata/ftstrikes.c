/* Prints the bitmap strikes of a font as FreeType reads them: a line "strike
   PPEM" for each, then a line a glyph: by its code in the first charmap with
   "codes", else by its index. Y grows up; rows run top to bottom. */
#include <stdio.h>
#include <string.h>
#include <ft2build.h>
#include FT_FREETYPE_H

static void glyph(FT_Face f, FT_ULong name, FT_UInt index)
{
	FT_GlyphSlot s = f->glyph;
	FT_Bitmap *b = &s->bitmap;
	unsigned y;
	int x;

	if (FT_Load_Glyph(f, index, FT_LOAD_SBITS_ONLY) || s->format != FT_GLYPH_FORMAT_BITMAP)
		return;
	printf("%lu %d %d %u %u %ld %d ", name, s->bitmap_left, s->bitmap_top, b->width, b->rows, s->advance.x / 64,
	       b->pixel_mode == FT_PIXEL_MODE_GRAY ? 8 : b->pixel_mode == FT_PIXEL_MODE_GRAY4 ? 4 : b->pixel_mode == FT_PIXEL_MODE_GRAY2 ? 2 : 1);
	for (y = 0; y < b->rows; y++)
		for (x = 0; x < b->pitch; x++)
			printf("%02x", b->buffer[y * b->pitch + x]);
	printf(" %d\n", b->pitch);
}

int main(int argc, char **argv)
{
	FT_Library l;
	FT_Face f;
	int i;

	if (argc < 2 || FT_Init_FreeType(&l) || FT_New_Face(l, argv[1], 0, &f))
		return 1;
	for (i = 0; i < f->num_fixed_sizes; i++) {
		if (FT_Select_Size(f, i))
			return 2;
		printf("strike %d\n", (int)(f->available_sizes[i].y_ppem + 32) / 64);
		if (argc > 2 && !strcmp(argv[2], "codes")) {
			FT_UInt g;
			FT_ULong c;
			FT_Set_Charmap(f, f->charmaps[0]);
			for (c = FT_Get_First_Char(f, &g); g; c = FT_Get_Next_Char(f, c, &g))
				glyph(f, c, g);
		} else {
			FT_Long g;
			for (g = 0; g < f->num_glyphs; g++)
				glyph(f, g, g);
		}
	}
	return 0;
}

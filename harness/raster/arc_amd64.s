#include "textflag.h"

// The numbers of an arc's four lines, twice.
DATA lanes<>+0(SB)/8, $0x0000000100000000
DATA lanes<>+8(SB)/8, $0x0000000300000002
DATA lanes<>+16(SB)/8, $0x0000000100000000
DATA lanes<>+24(SB)/8, $0x0000000300000002
GLOBL lanes<>(SB), RODATA|NOPTR, $32

// Masks of the first none, one, two, three and four lanes.
DATA first<>+0(SB)/8, $0
DATA first<>+8(SB)/8, $0
DATA first<>+16(SB)/8, $0x00000000ffffffff
DATA first<>+24(SB)/8, $0
DATA first<>+32(SB)/8, $0xffffffffffffffff
DATA first<>+40(SB)/8, $0
DATA first<>+48(SB)/8, $0xffffffffffffffff
DATA first<>+56(SB)/8, $0x00000000ffffffff
DATA first<>+64(SB)/8, $0xffffffffffffffff
DATA first<>+72(SB)/8, $0xffffffffffffffff
GLOBL first<>(SB), RODATA|NOPTR, $80

// bias
DATA moved<>+0(SB)/4, $0x10000000
GLOBL moved<>(SB), RODATA|NOPTR, $4

// A number of this arc to one half of a register, and of the next arc, 40 bytes on, to the other.
#define PAIR(at, X, Y) \
	VPBROADCASTD at(SI), X        \
	VPBROADCASTD (at+40)(SI), X9  \
	VINSERTI128  $1, X9, Y, Y

// func meetPairs(xs *int32, arcs *arc, pairs, one, flat int)
//
// Two arcs at a time, each with four scan lines: Y0 and Y1 are a.x and a.y, Y2 and Y3 those of c,
// Y4 and Y5 those of b, Y6 is the line.
TEXT ·meetPairs(SB), NOSPLIT, $0-40
	MOVQ         xs+0(FP), DI
	MOVQ         arcs+8(FP), SI
	MOVQ         pairs+16(FP), CX
	LEAQ         first<>(SB), BX
	MOVQ         flat+32(FP), AX
	DECQ         AX
	VMOVD        AX, X8
	VPBROADCASTD X8, Y8

pair:
	PAIR(0, X0, Y0)
	PAIR(4, X1, Y1)
	PAIR(8, X2, Y2)
	PAIR(12, X3, Y3)
	PAIR(16, X4, Y4)
	PAIR(20, X5, Y5)
	PAIR(24, X6, Y6)
	VPBROADCASTD one+24(FP), Y7
	VPMULLD      lanes<>(SB), Y7, Y7
	VPADDD       Y7, Y6, Y6
	VPSLLD       $2, Y6, Y7

halve:
	VPSUBD    Y1, Y5, Y9
	VPCMPGTD  Y8, Y9, Y9     // not flat yet
	VPCMPGTD  Y6, Y5, Y10    // and b is above the line
	VPAND     Y9, Y10, Y9
	VMOVMSKPS Y9, AX
	TESTL     AX, AX
	JZ        chord
	VPADDD    Y1, Y3, Y10    // a+c
	VPADDD    Y3, Y5, Y11    // c+b
	VPADDD    Y10, Y11, Y12
	VPCMPGTD  Y12, Y7, Y13   // the line is in the second half
	VPSRLD    $1, Y10, Y10
	VPSRLD    $1, Y11, Y11
	VPSRLD    $2, Y12, Y12   // the middle
	VPAND     Y9, Y13, Y14
	VPANDN    Y9, Y13, Y15
	VBLENDVPS Y13, Y11, Y10, Y3
	VBLENDVPS Y14, Y12, Y1, Y1
	VBLENDVPS Y15, Y12, Y5, Y5
	VPADDD    Y0, Y2, Y10
	VPADDD    Y2, Y4, Y11
	VPADDD    Y10, Y11, Y12
	VPSRLD    $1, Y10, Y10
	VPSRLD    $1, Y11, Y11
	VPSRLD    $2, Y12, Y12
	VBLENDVPS Y13, Y11, Y10, Y2
	VBLENDVPS Y14, Y12, Y0, Y0
	VBLENDVPS Y15, Y12, Y4, Y4
	JMP       halve

chord: // a.x + (b.x-a.x)*(line-a.y)/(b.y-a.y), or b.x where b is on the line
	VPCMPEQD     Y5, Y6, Y9
	VPSUBD       Y0, Y4, Y10
	VPSUBD       Y1, Y6, Y11
	VPSUBD       Y1, Y5, Y12
	VCVTDQ2PD    X10, Y13
	VCVTDQ2PD    X11, Y14
	VCVTDQ2PD    X12, Y15
	VMULPD       Y13, Y14, Y13
	VDIVPD       Y15, Y13, Y13
	VCVTTPD2DQY  Y13, X13
	VEXTRACTI128 $1, Y10, X10
	VEXTRACTI128 $1, Y11, X11
	VEXTRACTI128 $1, Y12, X12
	VCVTDQ2PD    X10, Y10
	VCVTDQ2PD    X11, Y11
	VCVTDQ2PD    X12, Y12
	VMULPD       Y10, Y11, Y10
	VDIVPD       Y12, Y10, Y10
	VCVTTPD2DQY  Y10, X10
	VINSERTI128  $1, X10, Y13, Y13
	VPADDD       Y0, Y13, Y13
	VBLENDVPS    Y9, Y4, Y13, Y13
	VPBROADCASTD moved<>(SB), Y9
	VPSUBD       Y9, Y13, Y13
	MOVLQSX      32(SI), DX
	MOVLQSX      36(SI), AX
	SHLQ         $4, AX
	VMOVDQU      (BX)(AX*1), X9
	VPMASKMOVD   X13, X9, (DI)(DX*4)
	VEXTRACTI128 $1, Y13, X13
	MOVLQSX      72(SI), DX
	MOVLQSX      76(SI), AX
	SHLQ         $4, AX
	VMOVDQU      (BX)(AX*1), X9
	VPMASKMOVD   X13, X9, (DI)(DX*4)
	ADDQ         $80, SI
	DECQ         CX
	JNZ          pair
	VZEROUPPER
	RET

// The kernel's own source compiled by a C++ compiler: what AssemblyScript calls by name is given here by SSE4.1, and the functions come
// from server/measure/kernels/assembly, written over line by line (data/nativeTwin.ts). Takes the memory of a kernel as a file, so both work
// on the same numbers at the same places, and prints a line an answer: name, CPU milliseconds (least of two hundred runs or seven), what was found.
#include <smmintrin.h>
#include <sys/mman.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <ctime>
#undef HUGE

using usize = std::uintptr_t;
using u32 = std::uint32_t;
using u64 = std::uint64_t;
using i32 = std::int32_t;
using f32 = float;
using f64 = double;
using v128 = __m128;

template <class T>
static inline T load(usize at, usize offset = 0) {
  T one;
  std::memcpy(&one, reinterpret_cast<const void*>(at + offset), sizeof one);
  return one;
}
template <class T, class U>
static inline void store(usize at, U value, usize offset = 0) {
  const T one = static_cast<T>(value);
  std::memcpy(reinterpret_cast<void*>(at + offset), &one, sizeof one);
}
template <class T, class U>
static inline T reinterpret(U value) {
  T one;
  static_assert(sizeof one == sizeof value);
  std::memcpy(&one, &value, sizeof one);
  return one;
}
static inline usize memory_data(usize bytes, usize align) { return reinterpret_cast<usize>(std::aligned_alloc(align, (bytes + align - 1) / align * align)); }
template <class T>
static inline T min(T a, T b) { return std::min(a, b); }
template <class T>
static inline T max(T a, T b) { return std::max(a, b); }
template <class T>
static inline T sqrt(T a) { return std::sqrt(a); }
static inline u32 ctz(i32 a) { return static_cast<u32>(__builtin_ctz(static_cast<u32>(a))); }

static inline v128 v128_load(usize at, usize offset = 0) { return _mm_loadu_ps(reinterpret_cast<const float*>(at + offset)); }
static inline void v128_store(usize at, v128 a, usize offset = 0) { _mm_storeu_ps(reinterpret_cast<float*>(at + offset), a); }
static inline v128 v128_load32_splat(usize at, usize offset = 0) { return _mm_load1_ps(reinterpret_cast<const float*>(at + offset)); }
static inline v128 v128_and(v128 a, v128 b) { return _mm_and_ps(a, b); }
static inline v128 v128_andnot(v128 a, v128 b) { return _mm_andnot_ps(b, a); }
static inline bool v128_any_true(v128 a) { return !_mm_testz_si128(_mm_castps_si128(a), _mm_castps_si128(a)); }
static inline v128 v128_bitselect(v128 a, v128 b, v128 mask) { return _mm_blendv_ps(b, a, mask); }
template <class T>
static inline v128 v128_shuffle(v128 a, v128, int, int, int, int) { return _mm_shuffle_ps(a, a, _MM_SHUFFLE(1, 0, 3, 2)); }
static inline v128 f32x4_splat(f32 a) { return _mm_set1_ps(a); }
static inline v128 f32x4_add(v128 a, v128 b) { return _mm_add_ps(a, b); }
static inline v128 f32x4_sub(v128 a, v128 b) { return _mm_sub_ps(a, b); }
static inline v128 f32x4_mul(v128 a, v128 b) { return _mm_mul_ps(a, b); }
static inline v128 f32x4_neg(v128 a) { return _mm_xor_ps(a, _mm_set1_ps(-0.0f)); }
static inline v128 f32x4_sqrt(v128 a) { return _mm_sqrt_ps(a); }
static inline v128 f32x4_pmin(v128 a, v128 b) { return _mm_min_ps(b, a); }
static inline v128 f32x4_pmax(v128 a, v128 b) { return _mm_max_ps(b, a); }
static inline v128 f32x4_lt(v128 a, v128 b) { return _mm_cmplt_ps(a, b); }
static inline v128 f32x4_gt(v128 a, v128 b) { return _mm_cmpgt_ps(a, b); }
template <int lane>
static inline f32 lane_of(v128 a) { return _mm_cvtss_f32(_mm_shuffle_ps(a, a, lane)); }
#define f32x4_extract_lane(a, lane) lane_of<lane>(a)
static inline i32 i32x4_bitmask(v128 a) { return _mm_movemask_ps(a); }

#include "kernel.inc"

static double cpu() {
  timespec now;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return now.tv_sec * 1e3 + now.tv_nsec / 1e6;
}

template <class Work, class Found>
static void least(const char* name, int runs, Work work, Found found) {
  double best = 1e300;
  for (int run = 0; run < runs; run++) {
    const double before = cpu();
    work();
    best = std::min(best, cpu() - before);
  }
  std::printf("%s\t%.3f\t%.5f\n", name, best, double(found()));
}

int main(int, char** words) {
  // Addresses in the memory are 32 bits: it is put where they still are when its place is added.
  const usize base = 0x10000000;
  FILE* file = std::fopen(words[1], "rb");
  if (!file) return 1;
  std::fseek(file, 0, SEEK_END);
  const usize bytes = static_cast<usize>(std::ftell(file));
  std::rewind(file);
  void* place = mmap(reinterpret_cast<void*>(base), bytes, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_FIXED_NOREPLACE, -1, 0);
  if (place != reinterpret_cast<void*>(base) || std::fread(place, 1, bytes, file) != bytes) return 1;
  std::fclose(file);
  usize at[10];
  for (int i = 0; i < 10; i++) at[i] = static_cast<usize>(std::strtoull(words[2 + i], nullptr, 10));
  const usize nodes = base + at[0], triangles = base + at[1], x = base + at[2], y = base + at[3], z = base + at[4];
  const usize levels = base + at[5], distances = base + at[6], pairs = base + at[7];
  const u32 count = static_cast<u32>(at[8]), levelCount = static_cast<u32>(at[9]);
  for (u32 i = 0; i < levelCount; i++) store<u32>(levels + 4 * i, load<u32>(levels + 4 * i) + base);
  const f32 slack = std::strtof(words[12], nullptr);
  scratch_as::takeScratch(memory_data(scratch_as::ROOM, 128));
  pairs_as::takePoints(x, y, z, count, 16, levels);
  least(
      "smallest distance", 200, [&] { pairs_as::nearestPairs(nodes, triangles, levelCount, 1e15f, slack, pairs, 4096); },
      [&] { return pairs_as::leastDistance(); });
  least(
      "field of 60 mm", 7,
      [&] {
        field_as::takeField(nodes, triangles, x, y, z);
        field_as::fieldOf(0, count, 32, 60, distances);
      },
      [&] {
        u32 within = 0;
        for (u32 i = 0; i < count; i++) within += load<f32>(distances + 4ul * i) < 60;
        return 100.0 * within / count;
      });
}

// The same questions to CGAL's tree of boxes, one thread, doubles: a closest point a point. Its way to be told how far to look is a hint, a
// point that is the answer unless something is nearer: it is put at the distance of interest. Reads positions, indices and points (float32,
// uint32, float32; millimetres) from a folder and prints a line an answer: name, CPU milliseconds (the distance the least of three, the
// field once: it takes long), what was found.
#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/AABB_triangle_primitive.h>
#include <CGAL/Simple_cartesian.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <functional>
#include <limits>
#include <string>
#include <utility>
#include <vector>

using Kernel = CGAL::Simple_cartesian<double>;
using Point = Kernel::Point_3;
using Triangles = std::vector<Kernel::Triangle_3>;
using Tree = CGAL::AABB_tree<CGAL::AABB_traits<Kernel, CGAL::AABB_triangle_primitive<Kernel, Triangles::iterator>>>;

template <class T>
static std::vector<T> load(const std::string& path) {
  FILE* file = std::fopen(path.c_str(), "rb");
  if (!file) std::exit(1);
  std::fseek(file, 0, SEEK_END);
  std::vector<T> all(std::ftell(file) / sizeof(T));
  std::rewind(file);
  if (std::fread(all.data(), sizeof(T), all.size(), file) != all.size()) std::exit(1);
  std::fclose(file);
  return all;
}

static double cpu() {
  timespec now;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return now.tv_sec * 1e3 + now.tv_nsec / 1e6;
}

// Neighbours one after the other (Morton order): it is given the order it runs best in, outside of the time.
static std::vector<Point> inOrder(const std::vector<float>& points) {
  float low[3] = {1e30f, 1e30f, 1e30f}, extent = 0;
  for (size_t i = 0; i < points.size(); i++) low[i % 3] = std::min(low[i % 3], points[i]);
  for (size_t i = 0; i < points.size(); i++) extent = std::max(extent, points[i] - low[i % 3]);
  std::vector<std::pair<uint32_t, uint32_t>> keys(points.size() / 3);
  for (uint32_t i = 0; i < keys.size(); i++) {
    uint32_t key = 0;
    for (int k = 0; k < 3; k++) {
      uint32_t cell = uint32_t((points[3 * i + k] - low[k]) / extent * 1023.9f);
      for (int bit = 0; bit < 10; bit++) key |= (cell >> bit & 1u) << (3 * bit + k);
    }
    keys[i] = {key, i};
  }
  std::sort(keys.begin(), keys.end());
  std::vector<Point> ordered;
  for (auto& key : keys) ordered.emplace_back(points[3 * key.second], points[3 * key.second + 1], points[3 * key.second + 2]);
  return ordered;
}

static void least(const char* name, int runs, const std::function<double()>& work) {
  double best = std::numeric_limits<double>::infinity(), found = 0;
  for (int run = 0; run < runs; run++) {
    const double before = cpu();
    found = work();
    best = std::min(best, cpu() - before);
  }
  std::printf("%s\t%.3f\t%.5f\n", name, best, found);
}

static double away(const Tree& tree, const Point& p, double radius) {
  const Point hint(p.x() + radius, p.y(), p.z());
  return std::sqrt(CGAL::squared_distance(p, tree.closest_point(p, hint)));
}

int main(int, char** given) {
  const std::string folder = given[1];
  const auto positions = load<float>(folder + "/positions");
  const auto indices = load<std::uint32_t>(folder + "/indices");
  const std::vector<Point> points = inOrder(load<float>(folder + "/points"));
  Triangles triangles;
  for (std::size_t t = 0; t < indices.size(); t += 3) {
    Point corners[3];
    for (int k = 0; k < 3; k++) {
      const float* at = &positions[3 * indices[t + k]];
      corners[k] = Point(at[0], at[1], at[2]);
    }
    triangles.emplace_back(corners[0], corners[1], corners[2]);
  }
  Tree tree(triangles.begin(), triangles.end());
  tree.build();
  // Its own search for a first hint is not asked for: a hint is always given.
  tree.do_not_accelerate_distance_queries();
  least("smallest distance", 3, [&] {
    double best = 1e6;
    for (const Point& p : points) best = std::min(best, away(tree, p, best));
    return best;
  });
  least("field of 60 mm", 1, [&] {
    std::size_t within = 0;
    for (const Point& p : points) within += away(tree, p, 60) < 60 - 1e-9;
    return 100.0 * within / points.size();
  });
}

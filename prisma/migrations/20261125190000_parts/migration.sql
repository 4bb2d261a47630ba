CREATE TABLE "Part" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "bytes" BIGINT NOT NULL,
    "triangles" INTEGER NOT NULL,
    "format" TEXT NOT NULL,
    "unit" TEXT NOT NULL,
    "unitStated" BOOLEAN NOT NULL,
    "boundsJson" TEXT NOT NULL,
    "uploadedBy" TEXT NOT NULL,
    "createdAt" TEXT NOT NULL,
    CONSTRAINT "Part_projectId_fkey" FOREIGN KEY ("projectId") REFERENCES "Project" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Part_uploadedBy_fkey" FOREIGN KEY ("uploadedBy") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE INDEX "Part_sha256_idx" ON "Part"("sha256");
CREATE UNIQUE INDEX "Part_projectId_sha256_unit_key" ON "Part"("projectId", "sha256", "unit");

CREATE TABLE "Revision" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "n" INTEGER NOT NULL,
    "name" TEXT NOT NULL,
    "note" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "sha256" TEXT NOT NULL,
    "ruleSet" INTEGER NOT NULL,
    "by" TEXT NOT NULL,
    "createdAt" TEXT NOT NULL,
    CONSTRAINT "Revision_projectId_fkey" FOREIGN KEY ("projectId") REFERENCES "Project" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Revision_by_fkey" FOREIGN KEY ("by") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

CREATE UNIQUE INDEX "Revision_projectId_n_key" ON "Revision" ("projectId", "n");

CREATE TABLE "RecordHead" (
    "projectId" TEXT NOT NULL,
    "size" INTEGER NOT NULL,
    "root" TEXT NOT NULL,
    "last" TEXT NOT NULL,
    "at" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "signature" TEXT NOT NULL,

    PRIMARY KEY ("projectId", "size"),
    CONSTRAINT "RecordHead_projectId_fkey" FOREIGN KEY ("projectId") REFERENCES "Project" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

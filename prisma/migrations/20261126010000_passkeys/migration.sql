CREATE TABLE "Passkey" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "accountId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "rpId" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "counter" INTEGER NOT NULL,
    "createdAt" TEXT NOT NULL,
    "lastUsedAt" TEXT,
    CONSTRAINT "Passkey_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

CREATE INDEX "Passkey_accountId_idx" ON "Passkey" ("accountId");

CREATE TABLE "Photo" (
    "projectId" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "thumb" TEXT NOT NULL,
    "width" INTEGER NOT NULL,
    "height" INTEGER NOT NULL,
    "bytes" INTEGER NOT NULL,
    "by" TEXT NOT NULL,
    "at" TEXT NOT NULL,

    PRIMARY KEY ("projectId", "sha256"),
    CONSTRAINT "Photo_projectId_fkey" FOREIGN KEY ("projectId") REFERENCES "Project" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Photo_by_fkey" FOREIGN KEY ("by") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

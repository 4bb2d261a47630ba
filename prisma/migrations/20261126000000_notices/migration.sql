CREATE TABLE "ApiToken" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "accountId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "scopes" TEXT NOT NULL,
    "createdAt" TEXT NOT NULL,
    "expiresAt" TEXT NOT NULL,
    "lastUsedAt" TEXT,
    "revokedAt" TEXT,
    CONSTRAINT "ApiToken_projectId_fkey" FOREIGN KEY ("projectId") REFERENCES "Project" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "ApiToken_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

CREATE INDEX "ApiToken_projectId_createdAt_idx" ON "ApiToken" ("projectId", "createdAt");

CREATE TABLE "KeptAnswer" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "request" TEXT NOT NULL,
    "status" INTEGER NOT NULL,
    "body" TEXT NOT NULL,
    "at" TEXT NOT NULL
);

CREATE INDEX "KeptAnswer_at_idx" ON "KeptAnswer" ("at");

CREATE TABLE "Notice" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "accountId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "words" TEXT NOT NULL,
    "place" TEXT NOT NULL,
    "at" TEXT NOT NULL,
    "readAt" TEXT,
    "overAt" TEXT,
    CONSTRAINT "Notice_projectId_fkey" FOREIGN KEY ("projectId") REFERENCES "Project" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Notice_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

CREATE INDEX "Notice_projectId_accountId_overAt_idx" ON "Notice" ("projectId", "accountId", "overAt");

CREATE TABLE "Delivery" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "way" TEXT NOT NULL,
    "recipient" TEXT NOT NULL,
    "noticeId" TEXT NOT NULL,
    "payload" TEXT NOT NULL,
    "createdAt" TEXT NOT NULL,
    "tries" INTEGER NOT NULL,
    "nextAt" TEXT NOT NULL,
    "doneAt" TEXT,
    "givenUpAt" TEXT,
    "lastError" TEXT
);

CREATE INDEX "Delivery_doneAt_givenUpAt_nextAt_idx" ON "Delivery" ("doneAt", "givenUpAt", "nextAt");
CREATE INDEX "Delivery_projectId_way_recipient_idx" ON "Delivery" ("projectId", "way", "recipient");

CREATE TABLE "Hook" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "url" TEXT NOT NULL,
    "secret" TEXT NOT NULL,
    "createdBy" TEXT NOT NULL,
    "createdAt" TEXT NOT NULL,
    "endedAt" TEXT,
    CONSTRAINT "Hook_projectId_fkey" FOREIGN KEY ("projectId") REFERENCES "Project" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Hook_createdBy_fkey" FOREIGN KEY ("createdBy") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

CREATE INDEX "Hook_projectId_idx" ON "Hook" ("projectId");

CREATE TABLE "MailAddress" (
    "accountId" TEXT NOT NULL PRIMARY KEY,
    "address" TEXT NOT NULL,
    "codeHash" TEXT,
    "codeUntil" TEXT,
    "tries" INTEGER NOT NULL,
    "confirmedAt" TEXT,
    CONSTRAINT "MailAddress_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

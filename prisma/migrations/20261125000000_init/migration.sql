CREATE TABLE "Account" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "login" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "passwordHash" TEXT NOT NULL,
    "createdAt" TEXT NOT NULL
);
CREATE UNIQUE INDEX "Account_login_key" ON "Account"("login");

CREATE TABLE "Session" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "accountId" TEXT NOT NULL,
    "createdAt" TEXT NOT NULL,
    "lastSeenAt" TEXT NOT NULL,
    "expiresAt" TEXT NOT NULL,
    CONSTRAINT "Session_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);
CREATE INDEX "Session_accountId_idx" ON "Session"("accountId");
CREATE INDEX "Session_expiresAt_idx" ON "Session"("expiresAt");

CREATE TABLE "Project" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "name" TEXT NOT NULL,
    "createdAt" TEXT NOT NULL
);

CREATE TABLE "Member" (
    "projectId" TEXT NOT NULL,
    "accountId" TEXT NOT NULL,
    "roles" TEXT NOT NULL,
    PRIMARY KEY ("projectId", "accountId"),
    CONSTRAINT "Member_projectId_fkey" FOREIGN KEY ("projectId") REFERENCES "Project" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Member_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE INDEX "Member_accountId_idx" ON "Member"("accountId");

CREATE TABLE "Invite" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "createdBy" TEXT NOT NULL,
    "createdAt" TEXT NOT NULL,
    "expiresAt" TEXT NOT NULL,
    "usedAt" TEXT,
    "usedBy" TEXT,
    "revokedAt" TEXT,
    CONSTRAINT "Invite_projectId_fkey" FOREIGN KEY ("projectId") REFERENCES "Project" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Invite_createdBy_fkey" FOREIGN KEY ("createdBy") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Invite_usedBy_fkey" FOREIGN KEY ("usedBy") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE INDEX "Invite_projectId_createdAt_idx" ON "Invite"("projectId", "createdAt");

CREATE TABLE "Scan" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "bytes" BIGINT NOT NULL,
    "points" INTEGER NOT NULL,
    "format" TEXT NOT NULL,
    "unit" TEXT NOT NULL,
    "boundsJson" TEXT NOT NULL,
    "spacing" REAL,
    "uploadedBy" TEXT NOT NULL,
    "createdAt" TEXT NOT NULL,
    CONSTRAINT "Scan_projectId_fkey" FOREIGN KEY ("projectId") REFERENCES "Project" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Scan_uploadedBy_fkey" FOREIGN KEY ("uploadedBy") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE INDEX "Scan_sha256_idx" ON "Scan"("sha256");
CREATE UNIQUE INDEX "Scan_projectId_sha256_unit_key" ON "Scan"("projectId", "sha256", "unit");

CREATE TABLE "SignOff" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "projectId" TEXT NOT NULL,
    "gate" TEXT NOT NULL,
    "seq" INTEGER NOT NULL,
    "statement" TEXT NOT NULL,
    "hash" TEXT NOT NULL,
    "previousHash" TEXT NOT NULL,
    "accountId" TEXT NOT NULL,
    "createdAt" TEXT NOT NULL,
    CONSTRAINT "SignOff_projectId_fkey" FOREIGN KEY ("projectId") REFERENCES "Project" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "SignOff_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE INDEX "SignOff_projectId_gate_idx" ON "SignOff"("projectId", "gate");
CREATE UNIQUE INDEX "SignOff_projectId_seq_key" ON "SignOff"("projectId", "seq");

CREATE TABLE "ClientId" (
    "projectId" TEXT NOT NULL,
    "doc" TEXT NOT NULL,
    "clientId" TEXT NOT NULL,
    "accountId" TEXT NOT NULL,
    PRIMARY KEY ("projectId", "doc", "clientId"),
    CONSTRAINT "ClientId_projectId_fkey" FOREIGN KEY ("projectId") REFERENCES "Project" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "ClientId_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

CREATE TABLE "Setting" (
    "key" TEXT NOT NULL PRIMARY KEY,
    "value" TEXT NOT NULL
);

/** A photo of a job. Its pixels are a blob under its hash, and small under `thumb`. */
export interface Photo {
  readonly projectId: string;
  readonly sha256: string;
  /** Blob of the small one. */
  readonly thumb: string;
  /** Pixels. */
  readonly width: number;
  readonly height: number;
  readonly bytes: number;
  readonly by: string;
  readonly at: string;
}

/** The part of the records that photos need. */
export interface PhotoRecords {
  /** The row that is there already for the same project and content, or the new one. */
  addPhoto(photo: Photo): Promise<Photo>;
  photo(projectId: string, sha256: string): Promise<Photo | undefined>;
}

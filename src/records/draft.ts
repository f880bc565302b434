/** The same record, while it is filled. */
export type Draft<Row> = { -readonly [Member in keyof Row]: Row[Member] };

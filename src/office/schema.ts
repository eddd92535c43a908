/** As much of JSON Schema (2020-12) as the office's questions need. */
export type JSONSchemaType =
  | {
      readonly type: 'object';
      readonly properties: Readonly<Record<string, JSONSchemaType>>;
      readonly required?: readonly string[];
      readonly additionalProperties: boolean;
    }
  | { readonly type: 'array'; readonly items: JSONSchemaType; readonly maxItems: number }
  | {
      readonly type: 'string';
      readonly pattern?: string;
      readonly minLength?: number;
      readonly maxLength?: number;
      readonly enum?: readonly string[];
    }
  | { readonly type: 'integer'; readonly minimum: number; readonly maximum: number }
  | { readonly type: 'boolean' };

export const UUID: JSONSchemaType = {
  type: 'string',
  pattern: '^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$',
};
export const HEX_64: JSONSchemaType = { type: 'string', pattern: '^[0-9a-f]{64}$' };
export const KID: JSONSchemaType = { type: 'string', pattern: '^[0-9A-Za-z_-]{43}$' };
export const DAY: JSONSchemaType = { type: 'string', pattern: '^\\d{4}-\\d{2}-\\d{2}$' };
export const count = (maximum = 2_147_483_647): JSONSchemaType => ({ type: 'integer', minimum: 0, maximum });
export const text = (maxLength: number, minLength = 1): JSONSchemaType => ({
  type: 'string',
  minLength,
  maxLength,
});
export const fields = (
  properties: Readonly<Record<string, JSONSchemaType>>,
  required: readonly string[] = Object.keys(properties),
): JSONSchemaType => ({ type: 'object', properties, required, additionalProperties: false });
/** Anything in it is looked at by its own reader. */
export const anyTable: JSONSchemaType = { type: 'object', properties: {}, additionalProperties: true };

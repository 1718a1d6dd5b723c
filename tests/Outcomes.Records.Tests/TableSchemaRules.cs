using System.Text.Json;

namespace Outcomes.Tests;

/// <summary>
/// The rules of the Table Schema specification, version 2 (datapackage.org/standard/table-schema, June 2024), written from its
/// text and apart from our reader: sections "Schema", "Field", "Field Types" and "Field Constraints". Each complaint starts with
/// the section's anchor.
/// </summary>
internal static class TableSchemaRules
{
    public static List<string> Complaints(JsonElement schema)
    {
        var complaints = new List<string>();
        if (schema.ValueKind != JsonValueKind.Object || !schema.TryGetProperty("fields", out var fields)
            || fields.ValueKind != JsonValueKind.Array)
            return ["fields: a schema MUST contain an array `fields`"];
        var names = new List<string>();
        foreach (var field in fields.EnumerateArray())
        {
            complaints.AddRange(TableSchemaFieldRules.Complaints(field));
            if (field.ValueKind == JsonValueKind.Object && field.TryGetProperty("name", out var name)
                && name.ValueKind == JsonValueKind.String)
                names.Add(name.GetString()!);
        }

        complaints.AddRange(names.GroupBy(name => name).Where(group => group.Count() > 1)
            .Select(group => $"name: `{group.Key}` MUST be unique"));
        if (schema.TryGetProperty("$schema", out var profile) && profile.ValueKind != JsonValueKind.String)
            complaints.Add("dollar-schema: MUST be a profile, a URL as text");
        if (schema.TryGetProperty("fieldsMatch", out var match)
            && !(Text(match) is "exact" or "equal" or "subset" or "superset" or "partial"))
            complaints.Add("fieldsMatch: MUST be exact, equal, subset, superset or partial");
        if (schema.TryGetProperty("missingValues", out var missing))
            complaints.AddRange(MissingValues(missing));
        if (schema.TryGetProperty("primaryKey", out var key))
            complaints.AddRange(Key("primaryKey", key, names));
        if (schema.TryGetProperty("uniqueKeys", out var keys))
        {
            if (keys.ValueKind != JsonValueKind.Array || keys.GetArrayLength() == 0)
                complaints.Add("uniqueKeys: MUST be a non-empty array");
            else
                complaints.AddRange(keys.EnumerateArray().SelectMany(each => Key("uniqueKeys", each, names)));
        }

        if (schema.TryGetProperty("foreignKeys", out var foreign))
            complaints.AddRange(ForeignKeys(foreign, names));
        return complaints;
    }

    /// <summary>An array of unique texts, or of objects with a unique text `value` and an optional unique text `label`.</summary>
    public static IEnumerable<string> MissingValues(JsonElement missing)
    {
        if (missing.ValueKind != JsonValueKind.Array)
            return ["missingValues: MUST be an array"];
        var items = missing.EnumerateArray().ToList();
        if (items.All(item => item.ValueKind == JsonValueKind.String))
            return Repeated(items.Select(item => item.GetString()!)) ? ["missingValues: entries MUST be unique"] : [];
        if (!items.All(item => item.ValueKind == JsonValueKind.Object && item.TryGetProperty("value", out var value)
            && value.ValueKind == JsonValueKind.String))
            return ["missingValues: every entry is text, or every entry is an object with a text `value`"];
        var labels = items.Where(item => item.TryGetProperty("label", out _)).Select(item => item.GetProperty("label")).ToList();
        if (labels.Exists(label => label.ValueKind != JsonValueKind.String))
            return ["missingValues: `label` MUST be text"];
        return Repeated(items.Select(item => item.GetProperty("value").GetString()!))
            || Repeated(labels.Select(label => label.GetString()!))
            ? ["missingValues: `value` and `label` MUST be unique"] : [];
    }

    public static string? Text(JsonElement element) => element.ValueKind == JsonValueKind.String ? element.GetString() : null;

    private static bool Repeated(IEnumerable<string> texts) => texts.GroupBy(text => text).Any(group => group.Count() > 1);

    private static IEnumerable<string> Key(string anchor, JsonElement key, List<string> names)
    {
        if (key.ValueKind != JsonValueKind.Array || key.EnumerateArray().Any(item => item.ValueKind != JsonValueKind.String))
            return [$"{anchor}: MUST be an array of texts"];
        return key.EnumerateArray().Where(item => !names.Contains(item.GetString()!))
            .Select(item => $"{anchor}: `{item}` is no field's name");
    }

    private static IEnumerable<string> ForeignKeys(JsonElement foreign, List<string> names)
    {
        if (foreign.ValueKind != JsonValueKind.Array)
            return ["foreignKeys: MUST be an array"];
        return foreign.EnumerateArray().SelectMany(key =>
        {
            if (key.ValueKind != JsonValueKind.Object || !key.TryGetProperty("fields", out var fields)
                || !key.TryGetProperty("reference", out var reference)
                || reference.ValueKind != JsonValueKind.Object || !reference.TryGetProperty("fields", out var target))
                return ["foreignKeys: MUST have `fields` and `reference` with `fields`"];
            var complaints = Key("foreignKeys", fields, names).ToList();
            if (target.ValueKind != JsonValueKind.Array || target.EnumerateArray().Any(item => item.ValueKind != JsonValueKind.String))
                complaints.Add("foreignKeys: the reference's `fields` MUST be an array of texts");
            else if (fields.ValueKind == JsonValueKind.Array && target.GetArrayLength() != fields.GetArrayLength())
                complaints.Add("foreignKeys: the reference's `fields` MUST be as many as `fields`");
            if (reference.TryGetProperty("resource", out var resource) && resource.ValueKind != JsonValueKind.String)
                complaints.Add("foreignKeys: `resource` is the name of a resource, as text");
            return complaints;
        });
    }
}

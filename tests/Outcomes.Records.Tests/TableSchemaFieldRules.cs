using System.Globalization;
using System.Text.Json;

namespace Outcomes.Tests;

/// <summary>The specification's rules for one field descriptor; see <see cref="TableSchemaRules"/>.</summary>
internal static class TableSchemaFieldRules
{
    private static readonly string[] Types =
    [
        "string", "number", "integer", "boolean", "object", "array", "list", "datetime", "date", "time", "year", "yearmonth", "duration",
        "geopoint", "geojson", "any",
    ];

    /// <summary>"Fields" of each constraint's section: the types that it may stand on.</summary>
    private static readonly Dictionary<string, string[]> ConstraintTypes = new()
    {
        ["required"] = Types,
        ["unique"] = Types,
        ["enum"] = Types,
        ["minLength"] = ["string", "array", "object"],
        ["maxLength"] = ["string", "array", "object"],
        ["minimum"] = ["integer", "number", "date", "time", "datetime", "duration", "year", "yearmonth"],
        ["maximum"] = ["integer", "number", "date", "time", "datetime", "duration", "year", "yearmonth"],
        ["exclusiveMinimum"] = ["integer", "number", "date", "time", "datetime", "duration", "year", "yearmonth"],
        ["exclusiveMaximum"] = ["integer", "number", "date", "time", "datetime", "duration", "year", "yearmonth"],
        ["jsonSchema"] = ["array", "object"],
        ["pattern"] = ["string"],
    };

    public static IEnumerable<string> Complaints(JsonElement field)
    {
        if (field.ValueKind != JsonValueKind.Object)
            return ["field: MUST be an object"];
        if (!field.TryGetProperty("name", out var named) || named.ValueKind != JsonValueKind.String)
            return ["name: a field MUST have a `name`"];
        var type = field.TryGetProperty("type", out var typed) ? TableSchemaRules.Text(typed) : "any";
        if (type is null || !Types.Contains(type))
            return [$"type: `{named}` has no type of the specification"];
        var complaints = new List<string>();
        if (field.TryGetProperty("format", out var format) && !IsFormat(TableSchemaRules.Text(format), type))
            complaints.Add($"format: `{named}` has no format of its type");
        foreach (var key in new[] { "trueValues", "falseValues" })
            if (field.TryGetProperty(key, out var words) && (type != "boolean" || words.ValueKind != JsonValueKind.Array
                || words.EnumerateArray().Any(word => word.ValueKind != JsonValueKind.String)))
                complaints.Add($"boolean: `{key}` of `{named}` is an array of texts of a boolean field");
        if (field.TryGetProperty("delimiter", out var delimiter) && (type != "list" || delimiter.ValueKind != JsonValueKind.String))
            complaints.Add($"list: `delimiter` of `{named}` is the text between a list's items");
        if (field.TryGetProperty("itemType", out var item) && (type != "list"
            || TableSchemaRules.Text(item) is not ("string" or "integer" or "boolean" or "number" or "datetime" or "date" or "time")))
            complaints.Add($"list: `itemType` of `{named}` MUST be a primitive type");
        if (field.TryGetProperty("categories", out var categories))
        {
            if (type is not ("string" or "integer"))
                complaints.Add($"categories: only string and integer fields MAY have them, not `{named}`");
            if (!AreCategories(categories, type, field))
                complaints.Add($"categories: those of `{named}` are no array of values, or of objects with `value` and `label`");
        }

        if (field.TryGetProperty("missingValues", out var missing))
            complaints.AddRange(TableSchemaRules.MissingValues(missing));
        if (field.TryGetProperty("constraints", out var constraints))
            complaints.AddRange(Constraints(constraints, named.GetString()!, type, field));
        return complaints;
    }

    /// <summary>
    /// An array of values of the field's type, or of objects that hold one under <c>value</c> and may have a <c>label</c>.
    /// </summary>
    private static bool AreCategories(JsonElement categories, string type, JsonElement field) => categories.ValueKind == JsonValueKind.Array
        && categories.GetArrayLength() > 0
        && categories.EnumerateArray().All(each => each.ValueKind == JsonValueKind.Object
            ? each.TryGetProperty("value", out var value) && IsValue(value, type, field)
                && each.EnumerateObject()
                    .All(key => key.Name is "value" or "label" && (key.Name == "value" || TableSchemaRules.Text(key.Value) is not null))
            : IsValue(each, type, field));

    private static List<string> Constraints(JsonElement constraints, string name, string type, JsonElement field)
    {
        if (constraints.ValueKind != JsonValueKind.Object)
            return ["constraints: MUST be an object"];
        var complaints = new List<string>();
        foreach (var constraint in constraints.EnumerateObject())
        {
            var value = constraint.Value;
            if (!ConstraintTypes.TryGetValue(constraint.Name, out var types))
                complaints.Add($"constraints: `{constraint.Name}` of `{name}` is no constraint of the specification");
            else if (!types.Contains(type))
                complaints.Add($"{constraint.Name}: does not apply to `{name}` of type {type}");
            else if (!(constraint.Name switch
            {
                "required" or "unique" => value.ValueKind is JsonValueKind.True or JsonValueKind.False,
                "minLength" or "maxLength" => value.ValueKind == JsonValueKind.Number && value.TryGetInt32(out _),
                "pattern" => value.ValueKind == JsonValueKind.String,
                "jsonSchema" => value.ValueKind == JsonValueKind.Object,
                "enum" => value.ValueKind == JsonValueKind.Array && value.GetArrayLength() > 0
                    && value.EnumerateArray().All(each => IsValue(each, type, field)),
                _ => IsValue(value, type, field),
            }))
                complaints.Add($"{constraint.Name}: its value does not suit `{name}` of type {type}");
        }

        if (constraints.TryGetProperty("minimum", out var minimum) && constraints.TryGetProperty("maximum", out var maximum)
            && Above(minimum, maximum))
            complaints.Add($"minimum: above the maximum of `{name}`, so that no value is valid");
        return complaints;
    }

    /// <summary>Primitive types of JSON, or texts that the field's type and format can read.</summary>
    private static bool IsValue(JsonElement value, string type, JsonElement field)
    {
        var text = TableSchemaRules.Text(value);
        var format = field.TryGetProperty("format", out var given) ? TableSchemaRules.Text(given) : null;
        return type switch
        {
            "string" => text is not null,
            "integer" => value.ValueKind == JsonValueKind.Number
                ? value.TryGetInt64(out _)
                : long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out _),
            "number" =>
                value.ValueKind == JsonValueKind.Number || decimal.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out _),
            "boolean" => value.ValueKind is JsonValueKind.True or JsonValueKind.False,
            "date" => DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _),
            "time" => TimeOnly.TryParseExact(text, format == "%H:%M" ? "HH:mm" : "HH:mm:ss", CultureInfo.InvariantCulture,
                DateTimeStyles.None, out _),
            _ => true,
        };
    }

    private static bool IsFormat(string? format, string type) => type switch
    {
        "string" => format is "default" or "email" or "uri" or "binary" or "uuid",
        "date" or "time" or "datetime" => format is "default" or "any" || format?.Contains('%') == true,
        "geopoint" => format is "default" or "array" or "object",
        "geojson" => format is "default" or "topojson",
        _ => format is "default",
    };

    private static bool Above(JsonElement minimum, JsonElement maximum) => (minimum.ValueKind, maximum.ValueKind) switch
    {
        (JsonValueKind.Number, JsonValueKind.Number) => minimum.GetDecimal() > maximum.GetDecimal(),
        (JsonValueKind.String, JsonValueKind.String) => string.CompareOrdinal(minimum.GetString(), maximum.GetString()) > 0,
        _ => false,
    };
}

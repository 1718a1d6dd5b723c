using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;

namespace Outcomes.Records;

/// <summary>One field descriptor of Table Schema as a <see cref="Field"/>.</summary>
internal static class FieldReader
{
    /// <summary>The words that state a reason, where a local file does not list its own.</summary>
    public static readonly ImmutableArray<MissingToken> UsualMissing =
    [
        new("not_recorded", MissingReason.NotRecorded), new("unknown", MissingReason.Unknown),
        new("withheld", MissingReason.Withheld), new("not_applicable", MissingReason.NotApplicable),
    ];

    /// <summary>Reads one field; <paramref name="missing"/> holds unless the field lists its own words.</summary>
    public static Field Read(JsonPart part, string table, ImmutableArray<MissingToken> missing)
    {
        if (part.Kind != JsonTokenType.StartObject)
            throw part.Wrong("a field must be an object in braces");
        var name = part.Required("name").String("`name`");
        if (!IsName(name))
            throw part.Required("name").Wrong($"`{name}` is no field name: use small letters, digits and _, a letter first");
        var constraints = part.Optional("constraints");
        var values = part.Optional("categories");
        var type = TypeOf(part.Required("type"), isCode: values is not null || constraints?.Optional("enum") is not null);
        if (values is not null && constraints?.Optional("enum") is { } twice)
            throw twice.Wrong($"the values of `{name}` stand in `categories`; take them out here");
        part.Object($"the field `{name}` of this type", [.. DictionaryKeys.Field, .. DictionaryKeys.FieldOf(type)]);
        constraints?.Object($"the constraints of `{name}`", [.. DictionaryKeys.ConstraintsOf(type)]);
        CheckSpelling(part, type);
        var labelled = Labelled(part, constraints, type);
        var field = new Field(name, table, type, part.Optional("title")?.String("`title`") ?? name,
            part.Optional("description")?.String("`description`") ?? "")
        {
            Unit = part.Optional("outcomes:unit")?.String("`outcomes:unit`"),
            Allowed = [.. labelled.Select(value => value.Word)],
            Labels = labelled.Where(value => value.Label is not null)
                .ToImmutableDictionary(value => value.Word, value => value.Label!, StringComparer.Ordinal),
            Hard = constraints is null ? null : Range(constraints, type),
            Plausible = part.Optional("outcomes:plausible")?.Object("`outcomes:plausible`", DictionaryKeys.Range.AsSpan()) is { } plausible
                ? Range(plausible, type)
                : null,
            Decimals = type == FieldType.Number ? Decimals(part.Required("outcomes:decimals")) : 0,
            Required = constraints?.Optional("required")?.Boolean("`required`") ?? false,
            Core = part.Optional("outcomes:core")?.Boolean("`outcomes:core`") ?? false,
            Identifying = IdentifyingOf(part.Required("outcomes:identifying")),
            Missing = part.Optional("missingValues") is { } words ? MissingWords(words) : missing,
        };
        CheckTogether(field, part);
        return field;
    }

    /// <summary>Missing words of a schema or a field: texts, or value and label, where the label says the reason.</summary>
    public static ImmutableArray<MissingToken> MissingWords(JsonPart part)
    {
        var words = new HashSet<string>();
        var tokens = ImmutableArray.CreateBuilder<MissingToken>();
        foreach (var item in part.Array("`missingValues`"))
        {
            var pair = item.Kind == JsonTokenType.String ? null : item.Object("a missing value", DictionaryKeys.MissingWord.AsSpan());
            var word = (pair?.Required("value") ?? item).String("a missing value");
            var label = pair?.Optional("label")?.String("`label`") ?? (word.Length == 0 ? "blank" : word);
            var reason = ReasonOf(label) ?? throw item.Wrong(
                $"the missing value `{word}` needs a label: blank, not_recorded, unknown, withheld, not_applicable or unrecordable");
            if ((word.Length == 0) != (reason == MissingReason.Blank))
                throw item.Wrong("the empty text, and no other, is labelled blank");
            if (!words.Add(word))
                throw item.Wrong($"the missing value `{word}` stands twice");
            if (word.Length > 0)
                tokens.Add(new MissingToken(word, reason));
        }

        return words.Contains("") ? tokens.DrainToImmutable() : throw part.Wrong("`missingValues` must list the blank cell, \"\"");
    }

    private static bool IsName(string text) =>
        text.Length is > 0 and <= 63 && char.IsAsciiLetterLower(text[0])
            && text.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c == '_');

    private static FieldType TypeOf(JsonPart part, bool isCode) => part.String("`type`") switch
    {
        "string" => isCode ? FieldType.Code : FieldType.Text,
        "list" => FieldType.Set,
        "boolean" => FieldType.YesNo,
        "integer" => FieldType.Integer,
        "number" => FieldType.Number,
        "date" => FieldType.Date,
        "time" => FieldType.Time,
        var other => throw part.Wrong($"the type `{other}` is not used here: choose string, list, boolean, integer, number, date or time"),
    };

    /// <summary>Records are written one way only, so a schema that says another would describe other files than ours.</summary>
    private static void CheckSpelling(JsonPart part, FieldType type)
    {
        if (type == FieldType.YesNo && !(part.Required("trueValues").Strings("`trueValues`") is ["yes"]
            && part.Required("falseValues").Strings("`falseValues`") is ["no"]))
            throw part.Wrong("a boolean field is written yes or no: \"trueValues\": [\"yes\"], \"falseValues\": [\"no\"]; "
                + "other words are codes of a mapping");
        if (type == FieldType.Set && (part.Required("delimiter").String("`delimiter`") != ";"
            || part.Optional("itemType")?.String("`itemType`") is not (null or "string")))
            throw part.Wrong("a list field is written with \"delimiter\": \";\" and items of type string");
        if (type == FieldType.Time && part.Required("format").String("`format`") != "%H:%M")
            throw part.Wrong("a time field is written with \"format\": \"%H:%M\"");
    }

    private static ImmutableArray<Category> Labelled(JsonPart part, JsonPart? constraints, FieldType type)
    {
        if (type == FieldType.Code)
            return part.Optional("categories") is { } categories
                ? Categories(categories, "`categories`")
                : [.. constraints!.Required("enum").Strings("`enum`").Select(word => new Category(word, null))];
        if (type != FieldType.Set)
            return [];
        var values = part.Required("outcomes:allowed");
        var allowed = Categories(values, "`outcomes:allowed`");
        for (var i = 0; i < allowed.Length; i++)
            if (!IsColumnPart(allowed[i].Word))
                throw values.Items[i].Wrong($"`{allowed[i].Word}` becomes part of a column's name: use letters, digits and _");
        return allowed;
    }

    /// <summary>Values of a code or set: texts, or value and label.</summary>
    private static ImmutableArray<Category> Categories(JsonPart part, string what)
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var read = ImmutableArray.CreateBuilder<Category>();
        foreach (var item in part.Array(what))
        {
            var pair = item.Kind == JsonTokenType.String ? null : item.Object($"a value in {what}", DictionaryKeys.Category.AsSpan());
            var word = (pair?.Required("value") ?? item).String($"a value in {what}");
            if (word.Length == 0)
                throw item.Wrong($"a value in {what} is empty");
            if (!seen.Add(word))
                throw item.Wrong($"`{word}` stands twice in {what}");
            read.Add(new Category(word, pair?.Optional("label")?.String("`label`")));
        }

        return read.Count > 0 ? read.DrainToImmutable() : throw part.Wrong($"{what} is empty");
    }

    private static bool IsColumnPart(string text) => text.Length > 0 && text.All(c => char.IsAsciiLetterOrDigit(c) || c == '_');

    private static Interval? Range(JsonPart part, FieldType type)
    {
        if (part.Optional("minimum") is null && part.Optional("maximum") is null)
            return null;
        var range = new Interval(End(part.Optional("minimum"), type), End(part.Optional("maximum"), type));
        return range.Minimum > range.Maximum ? throw part.Wrong("the minimum is above the maximum") : range;
    }

    private static decimal? End(JsonPart? part, FieldType type) => (part, type) switch
    {
        (null, _) => null,
        (_, FieldType.Date) =>
            DateOnly.TryParseExact(part.Text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date)
                ? date.DayNumber : throw part.Wrong("write this end of the range as a date, \"2026-03-31\""),
        (_, FieldType.Time) => TimeOnly.TryParseExact(part.Text, "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out var time)
            ? (time.Hour * 60) + time.Minute : throw part.Wrong("write this end of the range as a time, \"08:00\""),
        ({ Number: { } number }, FieldType.Number) => number,
        ({ Number: { } number }, _) when decimal.IsInteger(number) => number,
        _ => throw part.Wrong($"write this end of the range as a {(type == FieldType.Number ? "" : "whole ")}number, without quotes"),
    };

    private static int Decimals(JsonPart part) => part.Number is { } number and >= 0 and <= 6 && decimal.IsInteger(number)
        ? (int)number : throw part.Wrong("`outcomes:decimals` must be a whole number from 0 to 6");

    private static Identifying IdentifyingOf(JsonPart part) => part.String("`outcomes:identifying`") switch
    {
        "none" => Identifying.None,
        "quasi" => Identifying.Quasi,
        "direct_risk" => Identifying.DirectRisk,
        var other => throw part.Wrong($"`{other}` is not none, quasi or direct_risk: say how far the field could point to a person"),
    };

    private static MissingReason? ReasonOf(string label) => label switch
    {
        "blank" => MissingReason.Blank,
        "not_recorded" => MissingReason.NotRecorded,
        "unknown" => MissingReason.Unknown,
        "withheld" => MissingReason.Withheld,
        "not_applicable" => MissingReason.NotApplicable,
        "unrecordable" => MissingReason.Unrecordable,
        _ => null,
    };

    private static void CheckTogether(Field field, JsonPart part)
    {
        if (field is { Hard: { } hard, Plausible: { } plausible } && (plausible.Minimum < hard.Minimum || plausible.Maximum > hard.Maximum))
            throw part.Required("outcomes:plausible").Wrong($"the plausible range of `{field.Name}` reaches beyond its hard range");
        if (field.MayBeUnrecordable
            && !(field.Type is FieldType.Integer or FieldType.Number && field.Hard?.Minimum is { } least && least > Field.TooLow))
            throw part.Wrong($"`{field.Name}` may be unrecordable only as a number whose least possible value (`minimum`) is above 0");
        foreach (var token in field.Missing)
            if (field.Allowed.Contains(token.Word))
                throw part.Wrong($"`{token.Word}` cannot be both a value of `{field.Name}` and a reason for a missing one");
    }

    /// <summary>A value and its label. A class, not a pair: pairs of ours would be compiled anew at every start.</summary>
    private sealed record Category(string Word, string? Label);
}

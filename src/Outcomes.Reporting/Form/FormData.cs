using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Outcomes.Records;

namespace Outcomes.Reporting.Form;

/// <summary>
/// What the form's script needs to know of the dictionary, as JSON with everything escaped that could end the element around it.
/// </summary>
internal static class FormData
{
    public static string Json(FormPlan plan, JsonArray rules)
    {
        var asked = plan.Stages.SelectMany(stage => stage.Fields);
        return new JsonObject
        {
            ["fields"] = new JsonArray([.. asked.Select(field => Of(field, plan.AskedIf.GetValueOrDefault(field.Name)))]),
            ["attempts"] = new JsonArray([.. plan.Attempts.Select(field => Of(field, null))]),
            ["rules"] = rules,
        }.ToJsonString(new JsonSerializerOptions());
    }

    private static JsonObject Of(Field field, AskedIf? asked)
    {
        var node = new JsonObject { ["name"] = field.Name, ["title"] = field.Title, ["type"] = field.Type.ToString() };
        if (field.Required) node["needed"] = true;
        if (field.Core) node["core"] = true;
        if (field.Hard is { } hard) node["hard"] = Range(field, hard);
        if (field.Plausible is { } usual) node["usual"] = Range(field, usual);
        if (field.Type == FieldType.Set) node["allowed"] = new JsonArray([.. field.Allowed.Select(value => JsonValue.Create(value))]);
        if (asked is not null)
            node["askedIf"] = new JsonObject
            {
                ["field"] = asked.Field,
                ["is"] = new JsonArray([.. asked.Values.Select(value => JsonValue.Create(value))])
            };
        return node;
    }

    private static JsonArray Range(Field field, Interval range) => [End(field, range.Minimum), End(field, range.Maximum)];

    private static JsonValue? End(Field field, decimal? value) => value switch
    {
        null => null,
        { } days when field.Type == FieldType.Date =>
            JsonValue.Create(DateOnly.FromDayNumber((int)days).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
        { } number => JsonValue.Create(number),
    };
}

using System.Globalization;
using System.Text.Json;
using Outcomes.Analysis;
using Outcomes.Reporting;

namespace Outcomes.Cli.Commands;

/// <summary>Actions as JSON, with the names that actions.csv has.</summary>
internal static class ActionsDocument
{
    public static void Write(Stream stream, IEnumerable<DepartmentAction> actions, DateOnly asOf)
    {
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, NewLine = "\n" }))
        {
            json.WriteStartArray();
            foreach (var action in actions)
                One(json, action, asOf);
            json.WriteEndArray();
        }

        stream.WriteByte((byte)'\n');
    }

    private static void One(Utf8JsonWriter json, DepartmentAction action, DateOnly asOf)
    {
        json.WriteStartObject();
        json.WriteString("action_id", action.Id);
        json.WriteString("what", action.What);
        json.WriteString("owner", action.Owner);
        json.WriteString("due", Day(action.Due));
        json.WriteString("measure", action.Measure);
        json.WriteString("measure_by", Day(action.MeasureBy));
        json.WriteStartArray("cases");
        foreach (var id in action.Cases) json.WriteStringValue(id);
        json.WriteEndArray();
        json.WriteString("opened", Day(action.Opened));
        json.WriteString("closed", Day(action.Closed));
        json.WriteString("effect", action.Effect);
        json.WriteString("state", ActionWording.State(action, asOf));
        json.WriteEndObject();
    }

    private static string? Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}

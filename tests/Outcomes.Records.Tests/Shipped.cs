using System.Text.Json;
using Outcomes.Records;

namespace Outcomes.Tests;

/// <summary>The dictionary files as the built tool carries them.</summary>
internal static class Shipped
{
    public static JsonElement Schema(string table)
    {
        using var stream = typeof(FieldDictionary).Assembly.GetManifestResourceStream($"dictionary/{table}.json")!;
        using var document = JsonDocument.Parse(stream);
        return document.RootElement.Clone();
    }

    public static Field Procedure(string name) => FieldDictionary.Shipped.Find(FieldDictionary.Procedure, name)!;

    public static Field Attempt(string name) => FieldDictionary.Shipped.Find(FieldDictionary.Attempt, name)!;
}

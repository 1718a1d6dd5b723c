using System.Text.Json;
using System.Text.Json.Nodes;

namespace Outcomes.Tests;

/// <summary>One expected value of tests/fixtures/statistics, with its origin.</summary>
public sealed record Check(
    string Id, string Statistic, JsonObject Inputs, JsonObject Expected, double Tolerance, string Source, string Provenance,
    string Status, string Note)
{
    private static readonly JsonSerializerOptions Strict = new(JsonSerializerDefaults.Web)
    {
        RespectRequiredConstructorParameters = true,
        UnmappedMemberHandling = System.Text.Json.Serialization.JsonUnmappedMemberHandling.Disallow,
    };

    public static string Folder => Path.Combine(AppContext.BaseDirectory, "fixtures", "statistics");

    public static Check[] Read(string file) =>
        JsonSerializer.Deserialize<Check[]>(File.ReadAllText(Path.Combine(Folder, file)), Strict) ?? [];

    public static Check Find(string file, string id) => Read(file).Single(check => check.Id == id);

    public static TheoryData<string> Ids(string file, string? statistic = null) =>
        [.. Read(file).Where(check => statistic is null || check.Statistic == statistic).Select(check => check.Id)];

    public long Integer(string name) => Inputs[name]!.GetValue<long>();

    /// <summary>Fails unless every expected number is met by the actual of that name, within the tolerance.</summary>
    public void Holds(params (string Name, double Actual)[] actual)
    {
        foreach (var (name, node) in Expected)
        {
            var value = actual.Single(pair => pair.Name == name).Actual;
            var expected = node!.GetValue<double>();
            Assert.True(Math.Abs(value - expected) <= Tolerance,
                $"{Id}: {name} is {value:R}, expected {expected:R} ± {Tolerance} ({Source})");
        }
    }
}

using System.Globalization;
using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd.Sharing;

/// <summary>
/// An invented ward with a pipeline for a network and one for the public over the same file: ten records a month, of which some are met.
/// </summary>
internal sealed class Ward : IDisposable
{
    private const string Mapping = """
        columns:
          record_id: {column: id}
          event_date: {column: day, date: yyyy-MM-dd}
          first_pass_success: {column: first}
          fona_performed: {column: fona}
        constants: {urgency: emergency, age_years: 60, attempts_total: 1}

        """;

    private readonly Workspace _workspace = new();

    public Ward(int months)
    {
        _workspace.Write("mapping.yaml", Mapping);
        foreach (var audience in new[] { "network", "public" }) Pipeline(audience, audience, "rows.csv");
        Records = [.. Enumerable.Range(0, months)
            .SelectMany(month => Enumerable.Range(0, 10).Select(number => new Row(month, number < 7)))];
    }

    /// <summary>Month from January 2024 on, and whether the first pass succeeded and a front-of-neck airway was needed.</summary>
    public sealed record Row(int Month, bool First)
    {
        /// <summary>Yes, no, or missing.</summary>
        public bool? Fona { get; init; } = false;
    }

    public List<Row> Records { get; }

    public Workspace Workspace => _workspace;

    public void Dispose() => _workspace.Dispose();

    public void Pipeline(string name, string audience, string sources, string measures = "first_pass.yaml, front_of_neck.yaml")
    {
        foreach (var measure in measures.Split(", "))
            if (!File.Exists(_workspace[measure]))
                File.Copy(Repository.InRoot("pipelines", "measures", measure), _workspace[measure]);
        var named = string.Join(", ", sources.Split(' ').Select((file, at) => $"s{at}: {{file: {file}, mapping: mapping.yaml}}"));
        _workspace.Write($"{name}.yaml", $$"""
            name: {{name}}
            as_of: 2030-01-31
            sources: { {{named}} }
            measures: [{{measures}}]
            strata: []
            headline: [first_pass]
            audience: {{audience}}
            invented: true

            """);
    }

    /// <summary>Writes the records, or those that a test asks for.</summary>
    public void Export(string file = "rows.csv", IEnumerable<Row>? rows = null)
    {
        var text = new StringBuilder("id,day,first,fona\n");
        foreach (var (row, number) in (rows ?? Records).Select((row, number) => (row, number)))
            text.Append(CultureInfo.InvariantCulture, $"{file[..1]}{number},{2024 + (row.Month / 12)}-{(row.Month % 12) + 1:00}-03,")
                .Append(row.First ? "yes," : "no,").Append(row.Fona is { } fona ? fona ? "yes" : "no" : "").Append('\n');
        _workspace.Write(file, text.ToString());
    }

    public async Task<ToolResult> Try(string name, string month, string to, params string[] more) =>
        await ToolProcess.Run(_workspace.Folder, ["run", $"{name}.yaml", "--month", month, "--out", to, .. more]);

    /// <summary>Makes a set and gives the rows of its counts.</summary>
    public async Task<string[]> Make(string name, string month, string to, params string[] more)
    {
        var result = await Try(name, month, to, more);
        Assert.True(result.Exit == 0, result.ToString());
        return Counts(to);
    }

    public string[] Counts(string folder) => [.. _workspace.Read(folder, "tables", "counts.csv").Split('\n')[1..^1]];
}

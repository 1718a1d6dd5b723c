using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// Texts that would act in a browser or a spreadsheet, in every text that a person or an export gives, looked for in every file of a set.
/// </summary>
public class HostileValuesTests
{
    private const string Script = "<script>alert(1)</script>", Handler = "x\" onmouseover=\"alert(1)", Turned = "ab\u202ecd",
        Formula = "=HYPERLINK(1)", Closing = "</title></svg></table><img src=x onerror=alert(1)>";

    private static readonly string[] Kinds = [Script, Handler, Turned, Formula, Closing, new('W', 10_000)];

    [Theory]
    [InlineData("department", "all")]
    [InlineData("network", "none")]
    [InlineData("public", "none")]
    public async Task No_text_acts_in_any_file_of_a_set(string audience, string charts)
    {
        using var workspace = TinyPipeline.Create();
        static string Json(string text) => System.Text.Json.JsonSerializer.Serialize(text);
        workspace.Write("fields.json", $$$"""
            {"missingValues": [""], "fields": [
              {"name": "tube_first_time", "title": {{{Json(Closing)}}}, "type": "boolean", "trueValues": ["yes"], "falseValues": ["no"], "description": {{{Json(Script)}}}, "outcomes:identifying": "none"},
              {"name": "kind", "title": {{{Json(Handler)}}}, "type": "string", "description": {{{Json(Closing)}}}, "outcomes:identifying": "none", "constraints": {"enum": [{{{string.Join(", ", Kinds.Select(Json))}}}]}}]}
            """);
        workspace.Write("mapping.yaml", TinyPipeline.Mapping + "  kind: {column: kind}\n");
        workspace.Write("measure.yaml",
            TinyPipeline.Measure.Replace("title: Tube at the first attempt", "title: " + Json(Closing), StringComparison.Ordinal)
                .Replace("source: Invented for this test.", "source: " + Json(Handler), StringComparison.Ordinal)
                .Replace("why: Every further attempt carries more risk.", "why: " + Json(Script), StringComparison.Ordinal));
        workspace.Write("flags.yaml", $"- {{id: any, title: {Json(Closing)}, tier: 1, when: kind IS NOT NULL, shows: [kind], "
            + $"why: {Json(Script)}, source: {Json(Handler)}}}\n");
        var rows = new StringBuilder("id,day,place,attempts,first,kind\n");
        var number = 0;
        for (var month = 0; month < 14; month++)
            foreach (var kind in Kinds)
                for (var i = 0; i < 4; i++)
                    rows.Append($"=r{number++},{2024 + (month / 12)}-{(month % 12) + 1:00}-0{i + 1},icu,{1 + (i % 2)},"
                        + $"{(i % 2 == 0 ? "yes" : "no")},\"{kind.Replace("\"", "\"\"", StringComparison.Ordinal)}\"\n");
        // Two rows for the quarantine, and a cell that is no value.
        rows.Append("@q1,=1+2,icu,1,yes,\"").Append(Closing).Append("\"\n+q2,<script>,icu,1,yes,\"").Append(Formula)
            .Append("\"\n-r,2025-02-03,<script>alert(1)</script>,1,=yes,=kind\n");
        workspace.Write("rows.csv", rows.ToString());
        workspace.Write("pipeline.yaml",
            TinyPipeline.Pipeline.Replace("strata: [location_type]", "strata: [kind]", StringComparison.Ordinal).Replace("2026-01, months",
                "2024-01, months", StringComparison.Ordinal) + $"flags: [flags.yaml]\nheadline: [measure]\naudience: {audience}\n");
        var run = await ToolProcess.Run(workspace.Folder, "run", "pipeline.yaml", "--month", "2025-02", "--charts", charts, "--out", "out");
        Assert.True(run.Exit == 0, run.ToString());

        var (pages, tables) = (0, 0);
        foreach (var file in Workspace.FilesIn(workspace["out"]))
        {
            var text = file.EndsWith(".csv", StringComparison.Ordinal) || file.EndsWith(".html", StringComparison.Ordinal)
                || file.EndsWith(".svg", StringComparison.Ordinal) ? workspace.Read("out", file) : "";
            if (file.EndsWith(".csv", StringComparison.Ordinal))
            {
                tables++;
                // A guarded cell starts with an apostrophe; a quoted one with a quote and then the apostrophe.
                Assert.DoesNotMatch("(^|,|\\n)\"?[=@]", text);
                Assert.DoesNotMatch("(^|,|\\n)\"?[+-][a-z]", text);
            }
            else if (text.Length > 0)
            {
                pages++;
                Assert.All(new[] { "<script", "<img", "</title></svg>", "\" onmouseover=\"", "\u202e" },
                    hostile => Assert.False(text.Contains(hostile, StringComparison.Ordinal), $"{file}: {hostile}"));
            }
        }

        Assert.True(tables >= 2 && pages >= 1, $"{tables} tables, {pages} pages");
        Assert.Contains("&lt;img src=x", workspace.Read("out",
            File.Exists(workspace["out", "appendix.html"]) ? "appendix.html" : "report.html"), StringComparison.Ordinal);
        var counts = workspace.Read("out", "tables/counts.csv");
        Assert.Contains(Script, counts, StringComparison.Ordinal);
        Assert.Contains("'" + Formula, counts, StringComparison.Ordinal);
    }
}

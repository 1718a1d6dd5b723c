using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Browser;

/// <summary>The files that the form saves, as a run takes them.</summary>
public sealed class FormFileTests(Chromium chromium, FormPages forms) : IClassFixture<FormPages>, IDisposable
{
    private readonly Workspace _workspace = new();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task CSV_and_JSON_of_one_page_give_a_run_the_same_records_attempts_and_counts()
    {
        await using var form = await chromium.OpenForm(forms, _workspace);
        await form.Fill("r-1", "93");
        await form.Fill("r-2", "81", attempts: 3);
        await form.Save(_workspace, "rows.csv");
        await form.Save(_workspace, "rows.json");
        foreach (var kind in new[] { "csv", "json" })
        {
            _workspace.Write($"{kind}.yaml", Pipeline($"rows.{kind}", kind));
            var run = await ToolProcess.Run(_workspace.Folder, "run", $"{kind}.yaml", "--charts", "none", "--out", kind);
            Assert.True(run.Exit == 0, run.ToString());
            Assert.Equal(["accepted", "accepted"], CsvTable.Read(_workspace[kind, "tables", "ledger.csv"]).Rows.Select(row => row["fate"]));
            Assert.DoesNotContain(CsvTable.Read(_workspace[kind, "tables", "findings.csv"]).Rows, row => row["column"].Length > 0);
            var attempts = await ToolProcess.Run(_workspace.Folder, "query", $"{kind}.yaml",
                "SELECT record_id, attempt_no, technique, outcome FROM attempts ORDER BY ALL", "--format", "csv");
            Assert.True(attempts.Exit == 0, attempts.ToString());
            Assert.Equal("record_id,attempt_no,technique,outcome\nr-1,1,video,success\nr-2,1,video,success\nr-2,2,video,success\n"
                + "r-2,3,video,success\n", attempts.Output);
        }

        foreach (var table in new[] { "counts.csv", "values.csv", "estimates.csv", "runcharts.csv" })
            Assert.Equal(_workspace.Read("csv", "tables", table), _workspace.Read("json", "tables", table));
        var below = CsvTable.Read(_workspace["json", "tables", "counts.csv"]).Rows
            .Single(row => row["measure"] == "spo2_below_90" && row["stratum"] == "all" && row["period"] == "2026-03");
        Assert.Equal("1 of 2", $"{below["met"]} of {below["eligible"]}");
    }

    [Fact]
    public async Task A_form_cut_down_with_fields_of_the_department_goes_through_to_a_run()
    {
        _workspace.Write("pipeline.yaml",
            Pipeline("rows.json", "ours") + "fields: fields.json\nform: {fields: [mallampati], attempts: [device]}\n");
        _workspace.Write("fields.json", """
            {"procedure": {"fields": [{"name": "trolley", "title": "Airway trolley", "type": "string", "description": "Which trolley was brought.", "constraints": {"enum": ["red", "blue"]}, "outcomes:identifying": "none"}]},
             "attempt": {"fields": [{"name": "light", "title": "Light of the blade", "type": "boolean", "description": "Whether the light worked.", "trueValues": ["yes"], "falseValues": ["no"], "outcomes:identifying": "none"}]}}
            """);
        var written = await ToolProcess.Run(_workspace.Folder, "form", "pipeline.yaml", "--mapping", "form.yaml");
        Assert.True(written.Exit == 0, written.ToString());
        await using var form = await chromium.Open(_workspace["form.html"]);
        Assert.Empty(await form.Violations());
        await form.Page.FillAsync("#record_id", "r-1");
        await form.Page.FillAsync("#event_date", "2026-03-02");
        await form.Page.SelectOptionAsync("#mallampati", "3");
        await form.Page.SelectOptionAsync("#trolley", "blue");
        await form.Page.ClickAsync("#add-attempt");
        await form.Page.SelectOptionAsync("#attempt1_device", "video");
        await form.Page.SelectOptionAsync("#attempt1_light", "no");
        await form.Page.ClickAsync("#keep");
        await form.Page.ClickAsync("#keep-anyway");
        await form.Save(_workspace, "rows.json");
        var run = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(run.Exit == 0, run.ToString());
        var asked = await ToolProcess.Run(_workspace.Folder, "query", "pipeline.yaml",
            "SELECT mallampati, trolley, attempts.device, light FROM records JOIN attempts USING (record_id)", "--format", "csv");
        Assert.True(asked.Exit == 0, asked.ToString());
        Assert.Equal("mallampati,trolley,device,light\n3,blue,video,no\n", asked.Output);
    }

    private static string Pipeline(string file, string name) => $$"""
        name: {{name}}
        as_of: 2026-03-31
        sources:
          procedures: {file: {{file}}, mapping: form.yaml}

        """;
}

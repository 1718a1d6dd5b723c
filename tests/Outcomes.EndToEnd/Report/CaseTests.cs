using System.Text.Json.Nodes;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Review cases: the right ones, de-identified, apart from the report, and the same every time.</summary>
public sealed class CaseTests(SharedRuns runs)
{
    private const string DelayedMonth = "2025-07";

    [Fact]
    public async Task The_planted_oesophageal_intubation_recognised_late_is_in_tier_1_of_its_month_and_no_page_names_its_record()
    {
        var workspace = await Delayed();
        var planted =
            JsonNode.Parse(workspace.Read("synthetic-data", "truth.json"))!["planted"]!["delayed_oesophageal"]![0]!.GetValue<string>();
        var keys = CsvTable.Read(workspace["out", "case-key.csv"]);
        var id = Assert.Single(keys.Rows, row => row["record_id"] == planted)["case_id"];

        var cases = workspace.Read("out", "cases.html");
        var tierOne = cases[cases.IndexOf("Tier 1:", StringComparison.Ordinal)..cases.IndexOf("Tier 2:", StringComparison.Ordinal)];
        Assert.Contains($"#case-{id}", tierOne, StringComparison.Ordinal);
        var page = cases[cases.IndexOf($"id=\"case-{id}\"", StringComparison.Ordinal)..];
        page = page[..page.IndexOf("</article>", StringComparison.Ordinal)];
        Assert.Contains("oesophageal_not_recognised_at_once", page, StringComparison.Ordinal);
        Assert.Contains("Confidential", page, StringComparison.Ordinal);
        Assert.All(keys.Rows, row => Assert.DoesNotContain(row["record_id"], cases, StringComparison.Ordinal));
        Assert.Equal(keys.Count, keys.Rows.Select(row => row["case_id"]).Distinct().Count());
    }

    [Fact]
    public async Task Pages_hold_no_date_of_a_record_no_exact_age_and_the_report_holds_no_case()
    {
        var workspace = await Delayed();
        var cases = workspace.Read("out", "cases.html");
        Assert.DoesNotMatch("[0-9]{4}-[0-9]{2}-[0-9]{2}|[0-9]{2}/[0-9]{2}/[0-9]{4}", cases);
        Assert.DoesNotContain("Age in years", cases, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("Age band", cases, StringComparison.Ordinal);
        var report = workspace.Read("out", "appendix.html");
        Assert.Contains("id=\"review\"", report, StringComparison.Ordinal);
        Assert.All(CsvTable.Read(workspace["out", "case-key.csv"]).Rows,
            row => Assert.DoesNotContain(row["case_id"], report, StringComparison.Ordinal));
    }

    [Fact]
    public async Task One_case_is_reviewed_on_the_terminal_or_as_a_page_and_an_unknown_one_is_exit_2()
    {
        using var workspace = TinyPipeline.Create();
        workspace.Write("flags.yaml", "- {id: many, title: Three attempts, tier: 1, when: attempts_total >= 3, shows: [attempts_total]}\n");
        workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + "flags: [flags.yaml]\n");
        var run = await ToolProcess.Run(workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(run.Exit == 0, run.ToString());
        var id = CsvTable.Read(workspace["out", "case-key.csv"]).Rows.Single(row => row["record_id"] == "r6")["case_id"];
        var told = await ToolProcess.Run(workspace.Folder, "review", "pipeline.yaml", "--case", id);
        Assert.True(told.Exit == 0, told.ToString());
        Assert.Contains("Three attempts", told.Output, StringComparison.Ordinal);
        Assert.Contains("Confidential", told.Output, StringComparison.Ordinal);
        Assert.Equal(0, (await ToolProcess.Run(workspace.Folder, "review", "pipeline.yaml", "--case", id, "--out", "one.html")).Exit);
        Assert.Contains($"id=\"case-{id}\"", workspace.Read("one.html"), StringComparison.Ordinal);
        Assert.Equal(2, (await ToolProcess.Run(workspace.Folder, "review", "pipeline.yaml", "--case", "NOSUCH")).Exit);
    }

    [Fact]
    public async Task A_page_counts_earlier_cases_with_the_same_highest_flag_and_gives_no_number_below_five()
    {
        using var workspace = TinyPipeline.Create();
        workspace.Write("flags.yaml", """
            - {id: data_only, title: Doubtful, tier: data, when: attempts_total >= 1, shows: [attempts_total]}
            - {id: two, title: Two attempts, tier: 2, when: attempts_total >= 2, shows: [attempts_total]}
            - {id: many, title: Three attempts, tier: 1, when: attempts_total >= 3, shows: [attempts_total]}

            """);
        // January: six records with three attempts or more, five of which blank the place; four with two.
        workspace.Write("rows.csv", "id,day,place,attempts,first\n"
            + string.Concat(Enumerable.Range(1, 6).Select(i => $"m{i},2026-01-0{i},{(i > 1 ? "" : "icu")},{i + 2},no\n"))
            + string.Concat(Enumerable.Range(1, 4).Select(i => $"t{i},2026-01-1{i},icu,2,no\n"))
            + "f1,2026-02-01,icu,3,no\nf2,2026-02-02,icu,2,no\n");
        workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("as_of: 2026-02-01", "as_of: 2026-02-28", StringComparison.Ordinal)
            + "flags: [flags.yaml]\n");
        var run = await ToolProcess.Run(workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(run.Exit == 0, run.ToString());
        var cases = workspace.Read("out", "cases.html").Replace('\u00a0', ' ');
        Assert.Contains("same highest flag (Three attempts): 6 since January 2026.", cases, StringComparison.Ordinal);
        Assert.Contains("same highest flag (Two attempts): fewer than 5 since January 2026.", cases, StringComparison.Ordinal);
        Assert.Equal(2, cases.Split("Earlier cases with").Length - 1);
    }

    [Fact]
    public async Task A_standard_that_no_measure_has_is_exit_3_with_file_and_line()
    {
        using var workspace = TinyPipeline.Create();
        workspace.Write("flags.yaml", "- {id: many, title: Three attempts, tier: 1, when: attempts_total >= 3, standards: [measures]}\n");
        workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + "flags: [flags.yaml]\n");
        var run = await ToolProcess.Run(workspace.Folder, "check", "pipeline.yaml");
        Assert.Equal(3, run.Exit);
        Assert.Contains("flags.yaml:1", run.Error, StringComparison.Ordinal);
        Assert.Contains("did you mean `measure`?", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_salt_is_made_once_and_another_salt_gives_other_case_ids()
    {
        using var workspace = TinyPipeline.Create();
        Assert.Equal(0, (await ToolProcess.Run(workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out")).Exit);
        var (salt, keys) = (workspace.Read("case-salt.txt"), workspace.Read("out", "case-key.csv"));
        Assert.Equal(0, (await ToolProcess.Run(workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out")).Exit);
        Assert.Equal(salt, workspace.Read("case-salt.txt"));
        Assert.Equal(keys, workspace.Read("out", "case-key.csv"));
        workspace.Write("case-salt.txt", "another salt that is long enough to be one\n");
        // By another salt it is another pipeline's report: its case ids mean other records.
        Assert.Equal(5, (await ToolProcess.Run(workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out")).Exit);
        Assert.Equal(keys, workspace.Read("out", "case-key.csv"));
        string[] replacing = ["run", "pipeline.yaml", "--charts", "none", "--out", "out", "--replace"];
        Assert.Equal(0, (await ToolProcess.Run(workspace.Folder, replacing)).Exit);
        Assert.NotEqual(keys, workspace.Read("out", "case-key.csv"));
        workspace.Write("case-salt.txt", "short\n");
        Assert.Equal(3, (await ToolProcess.Run(workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out")).Exit);
    }

    [Fact]
    public async Task Hostile_levels_titles_and_record_ids_do_not_act()
    {
        var (script, handler, turned, endless) =
            ("<script>alert(1)</script>", "x\\\" onmouseover=\\\"alert(1)", "ab\u202ecd", new string('W', 10_000));
        using var workspace = TinyPipeline.Create();
        workspace.Write("fields.json", $$$"""
            {"missingValues": [""], "fields": [
              {"name": "tube_first_time", "title": "Tube", "type": "boolean", "trueValues": ["yes"], "falseValues": ["no"], "description": "Tube?", "outcomes:identifying": "none"},
              {"name": "kind", "title": "<img src=x onerror=alert(1)>", "type": "string", "description": "A kind.", "outcomes:identifying": "none",
               "constraints": {"enum": ["{{{script}}}", "{{{handler}}}", "{{{turned}}}", "{{{endless}}}"]}}]}
            """);
        workspace.Write("mapping.yaml", TinyPipeline.Mapping + "  kind: {column: kind}\n");
        workspace.Write("rows.csv", $"""
            id,day,place,attempts,first,kind
            =1+2,2026-01-02,icu,1,yes,{script}
            @r2,2026-01-05,icu,2,no,"x"" onmouseover=""alert(1)"
            r3,2026-01-09,ed,1,yes,{turned}
            r4,2026-01-12,ed,1,yes,{endless}

            """);
        workspace.Write("flags.yaml",
            "- {id: any, title: Any <b>kind</b>, tier: 1, when: kind IS NOT NULL, shows: [kind, record_id, event_date]}\n");
        workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + "flags: [flags.yaml]\n");
        var run = await ToolProcess.Run(workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(run.Exit == 0, run.ToString());
        var cases = workspace.Read("out", "cases.html");
        Assert.Contains("&lt;script&gt;alert(1)&lt;/script&gt;", cases, StringComparison.Ordinal);
        Assert.Contains(endless, cases, StringComparison.Ordinal);
        Assert.All(new[] { "<script", "<img", "<b>", "\" onmouseover", "\u202e", "=1+2", "@r2", "2026-01" },
            text => Assert.DoesNotContain(text, cases, StringComparison.Ordinal));
        var key = workspace.Read("out", "case-key.csv");
        Assert.DoesNotMatch("(^|,|\\n)[=@]", key);
        Assert.Equal(5, key.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
    }

    [Fact]
    public async Task A_flag_sees_the_record_before_blanking_and_a_measure_after()
    {
        using var workspace = TinyPipeline.Create();
        workspace.Write("rules.yaml", "- {id: few, expect: attempts_total < 3, severity: blank, blanks: [attempts_total]}\n");
        workspace.Write("flags.yaml", "- {id: many, title: Three attempts, tier: 1, when: attempts_total >= 3, shows: [attempts_total]}\n");
        workspace.Write("pipeline.yaml", TinyPipeline.Pipeline + "flags: [flags.yaml]\nconsistency: [rules.yaml]\n");
        var run = await ToolProcess.Run(workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(run.Exit == 0, run.ToString());
        var cases = JsonNode.Parse(workspace.Read("out", "run.json"))!["cases"]!;
        Assert.Equal(1, cases["tier_1"]!.GetValue<int>());
        Assert.Contains("measure,2026-01,all,all,3,4,2", workspace.Read("out", "tables", "counts.csv"), StringComparison.Ordinal);
    }

    // The month in which a late recognition was planted, made once.
    private async Task<Workspace> Delayed() =>
        (await runs.Get(DelayedMonth, Workspace.WithShippedPipelines, "run", "pipelines/monthly.yaml", "--month", DelayedMonth, "--charts",
            "none", "--out", "out")).Workspace;
}

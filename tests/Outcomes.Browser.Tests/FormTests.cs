using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Browser;

/// <summary>The form as a person uses it: by keyboard, without a network, and through to a run.</summary>
public sealed class FormTests(Chromium chromium, FormPages forms) : IClassFixture<FormPages>, IDisposable
{
    private const string Pipeline = """
        name: form
        as_of: 2026-03-31
        sources:
          procedures: {file: rows.csv, mapping: form.yaml}
        measures: [shipped]
        audience: department

        """;

    private readonly Workspace _workspace = new();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task A_procedure_is_filled_and_saved_by_keyboard_alone_and_a_run_takes_every_row()
    {
        await using var form = await chromium.OpenForm(forms, _workspace);
        await form.Fill("r-1", "93");
        await form.Fill("r-2", "97");
        await form.Save(_workspace, "rows.csv");

        var table = CsvTable.Read(_workspace["lf-rows.csv"]);
        Assert.Equal(2, table.Count);
        var row = table.Rows.First();
        Assert.Equal(("r-1", "2026-03-03", "93", "unknown", "aspiration;dental"),
            (row["record_id"], row["event_date"], row["spo2_min"], row["sbp_min"], row["complication"]));
        Assert.Equal(("succeeded", "not_used", "not_used"), (row["plan_a"], row["plan_b"], row["plan_d"]));
        Assert.Equal(("video", "success"), (row["attempt1_technique"], row["attempt1_outcome"]));
        Assert.Equal(("", "not_applicable"), (row["checklist"], row["fona_success"]));

        _workspace.Write("pipeline.yaml", Pipeline);
        var run = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(run.Exit == 0, run.ToString());
        Assert.Equal(["accepted", "accepted"], CsvTable.Read(_workspace["out", "tables", "ledger.csv"]).Rows.Select(line => line["fate"]));
        Assert.DoesNotContain(CsvTable.Read(_workspace["out", "tables", "findings.csv"]).Rows, line => line["column"].Length > 0);
        var firstPass = CsvTable.Read(_workspace["out", "tables", "counts.csv"]).Rows
            .Where(line => line["measure"] == "first_pass" && line["stratum"] == "all" && line["period"] == "2026-03").ToList();
        Assert.Equal("2 of 2, 0", Assert.Single(firstPass.Select(line => $"{line["met"]} of {line["eligible"]}, {line["missing"]}")));
    }

    [Fact]
    public async Task Every_field_that_is_asked_for_reaches_the_record_as_entered()
    {
        await using var form = await chromium.OpenForm(forms, _workspace);
        await form.Page.ClickAsync("#add-attempt");
        await form.Page.FillAsync("#event_date", "2026-03-02");
        var filled = await form.Page.EvaluateAsync<int>(FillAll);
        Assert.True(filled > 150, $"only {filled} filled");
        await form.Page.ClickAsync("#keep");
        await form.Page.ClickAsync("#keep-anyway");
        await form.Save(_workspace, "rows.csv");
        Assert.True(CsvTable.Read(_workspace["lf-rows.csv"]).Rows.Single().Values.Count(cell => cell.Length > 0) >= filled);

        _workspace.Write("pipeline.yaml", Pipeline);
        var run = await ToolProcess.Run(_workspace.Folder, "check", "pipeline.yaml");
        Assert.True(run.Exit == 0, run.ToString());
        run = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(run.Exit == 0, run.ToString());
        Assert.Equal(["accepted"], CsvTable.Read(_workspace["out", "tables", "ledger.csv"]).Rows.Select(line => line["fate"]));
        // What is found is what fields say against each other, never a cell that cannot be read.
        var rules = File.ReadAllText(Repository.InRoot("pipelines", "consistency.yaml"));
        Assert.DoesNotContain(CsvTable.Read(_workspace["out", "tables", "findings.csv"]).Rows,
            line => line["line"].Length > 0 && !rules.Contains($"- id: {line["rule"]}\n", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(1280)]
    [InlineData(320)]
    public async Task Nothing_stands_against_WCAG_22_AA_empty_refused_doubted_or_kept_and_nothing_runs_over_the_side(int width)
    {
        await using var form = await chromium.OpenForm(forms, _workspace, width);
        Assert.Empty(await form.Violations());
        // A blank date is needed, so that the first press refuses.
        await form.Page.EvaluateAsync("document.querySelectorAll('details').forEach(one => one.open = true)");
        await form.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Add an attempt" }).ClickAsync();
        await form.Page.ClickAsync("#keep");
        Assert.True(await form.Page.IsVisibleAsync("#summary"));
        Assert.Empty(await form.Violations());
        await form.Page.FillAsync("#event_date", "2026-03-02");
        await form.Page.ClickAsync("#keep");
        Assert.Empty(await form.Violations());
        await form.Page.ClickAsync("#keep-anyway");
        Assert.True(await form.Page.IsEnabledAsync("#save-csv"));
        Assert.Empty(await form.Violations());
        Assert.Equal(width, await form.Page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        Assert.Equal(0, await form.Page.EvaluateAsync<int>("[...document.querySelectorAll('button, input, select, summary')].filter(one => "
            + "{ const box = one.getBoundingClientRect(); return box.width > 0 && (box.width < 24 || box.height < 24); }).length"));
    }

    [Fact]
    public async Task The_page_asks_for_nothing_but_itself_and_its_own_policy_lets_it_work()
    {
        await using var form = await chromium.OpenForm(forms, _workspace);
        await form.Fill("r-1", "93");
        await form.Save(_workspace, "rows.csv");
        Assert.All(form.Requests.Skip(1), address => Assert.StartsWith("blob:", address, StringComparison.Ordinal));
        Assert.Empty(form.Complaints);
        await form.Page.EvaluateAsync("""
            () => { const image = new Image(); image.src = 'https://example.org/x.png'; document.body.append(image); return fetch('https://example.org/').catch(() => 0); }
            """);
        Assert.Contains(form.Complaints, text => text.Contains("Content Security Policy", StringComparison.Ordinal));
    }

    [Theory]
    // by hand: weights 10 to 2 give 299, remainder 2, so the check digit is 9; the number is a common example, from memory
    [InlineData("#record_id", "943 476 5919", "patient")]
    [InlineData("#spo2_min", "101", "between 20 and 100")]
    [InlineData("#age_years", "forty", "whole number")]
    public async Task What_the_tool_would_refuse_is_refused_at_entry_with_a_link_to_it(string field, string text, string said)
    {
        await using var form = await chromium.OpenForm(forms, _workspace);
        await form.Page.FillAsync("#event_date", "2026-03-02");
        await form.Page.FillAsync(field, text);
        await form.Page.ClickAsync("#keep");
        Assert.Contains(said, await form.Page.InnerTextAsync("#summary"), StringComparison.Ordinal);
        Assert.Equal("summary", await form.Focused());
        await form.Page.Keyboard.PressAsync("Tab");
        await form.Page.Keyboard.PressAsync("Enter");
        Assert.Equal(field[1..], await form.Focused());
        Assert.Equal("true", await form.Page.GetAttributeAsync(field, "aria-invalid"));
        Assert.True(await form.Page.IsDisabledAsync("#save-csv"));
    }

    [Fact]
    public async Task Attempts_keep_their_numbers_without_gaps_and_their_answers()
    {
        await using var form = await chromium.OpenForm(forms, _workspace);
        foreach (var technique in new[] { "direct", "video", "fona" })
        {
            await form.Page.ClickAsync("#add-attempt");
            await form.Page.SelectOptionAsync($"#{await form.Focused()}", technique);
        }

        await form.Page.GetByText("Remove attempt 2").ClickAsync();
        Assert.Equal(["direct", "fona"],
            await form.Page.EvaluateAsync<string[]>("[1, 2].map(n => document.getElementById(`attempt${n}_technique`).value)"));
        Assert.Equal(2, await form.Page.Locator("#attempts .attempt").CountAsync());
    }

    [Fact]
    public async Task A_later_plan_is_asked_for_only_once_the_one_before_did_not_succeed()
    {
        await using var form = await chromium.OpenForm(forms, _workspace);
        Assert.False(await form.Page.IsVisibleAsync("#plan_b"));
        await form.Page.SelectOptionAsync("#plan_a", "failed");
        Assert.True(await form.Page.IsVisibleAsync("#plan_b"));
        Assert.False(await form.Page.IsVisibleAsync("#plan_c"));
        await form.Page.SelectOptionAsync("#plan_a", "succeeded");
        Assert.False(await form.Page.IsVisibleAsync("#plan_b"));
        await form.Page.CheckAsync("#ladder-on");
        Assert.True(await form.Page.IsVisibleAsync("#plan_d"));
    }

    [Fact]
    public async Task Without_scripts_the_page_says_so_and_names_the_paper_form()
    {
        await using var form = await chromium.OpenForm(forms, _workspace, scripts: false);
        Assert.Contains("outcomes form --paper", await form.Page.InnerTextAsync("header"), StringComparison.Ordinal);
    }

    /// <summary>Gives each visible-or-folded control an answer that the dictionary allows, and says how many fields have one.</summary>
    private const string FillAll = """
        () => {
          const { fields, attempts } = JSON.parse(document.getElementById('dictionary').textContent);
          const middle = field => { const [low, high] = field.usual ?? field.hard; return String(Math.floor((low + high) / 2)); };
          let filled = 0;
          for (const [field, id] of [...fields.map(field => [field, field.name]), ...attempts.map(field => [field, `attempt1_${field.name}`])]) {
            if (['record_id', 'event_date'].includes(field.name)) continue;
            const control = document.getElementById(id);
            if (field.type === 'Set') control.querySelector('input').checked = true;
            else if (control.tagName === 'SELECT') control.selectedIndex = 1;
            else control.value = field.type === 'Text' ? 'a-1' : middle(field);
            control.dispatchEvent(new Event('change', { bubbles: true }));
            if (!document.getElementById(id + '-field').hidden) filled++;
          }
          return filled;
        }
        """;
}

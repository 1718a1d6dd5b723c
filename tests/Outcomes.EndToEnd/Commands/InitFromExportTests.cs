using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// A folder drafted from an invented export runs once the listed questions are answered; tests/fixtures/init says what each export is like.
/// </summary>
public sealed class InitFromExportTests
{
    [Theory]
    [InlineData("wide", 1, 60)]
    [InlineData("long", 3, 122)]
    [InlineData("semicolon", 2, 45)]
    [InlineData("coded", 2, 48)]
    [InlineData("machine", 3, 52)]
    public async Task A_draft_runs_once_its_questions_are_answered(string name, int questions, int accepted)
    {
        using var workspace = new Workspace();
        Workspace.CopyFolder(Repository.InRoot("tests", "fixtures", "init"), workspace["exports"]);
        string[] from = File.Exists(workspace["exports", name + "-attempts.csv"]) ? ["--from", $"exports/{name}-attempts.csv"] : [];
        var init = await ToolProcess.Run(workspace.Folder, ["init", "mine", "--from", $"exports/{name}.csv", .. from]);
        Assert.True(init.Exit == 0, init.ToString());
        var drafted = Directory.GetFiles(workspace["mine"], "*.yaml")
            .Sum(file => File.ReadLines(file).Count(line => line.TrimStart().StartsWith("# QUESTION", StringComparison.Ordinal)));
        Assert.True(questions == drafted, init.Output);
        Assert.Contains($"{questions}. `", init.Output, StringComparison.Ordinal);
        Assert.DoesNotContain($"{questions + 1}. `", workspace.Read("mine", "questions.md"), StringComparison.Ordinal);

        Answers.Give(workspace, "mine", Path.Combine("exports", name + ".answers"));
        var check = await ToolProcess.Run(workspace.Folder, "check", "mine/pipeline.yaml");
        Assert.True(check.Exit == 0, check.ToString());
        var run = await ToolProcess.Run(workspace.Folder, "run", "mine/pipeline.yaml", "--as-of", "2026-04-30", "--out",
            "out", "--charts", "none");
        Assert.True(run.Exit == 0, run.ToString());
        Assert.Equal(accepted, CsvTable.Read(workspace["out", "tables", "ledger.csv"]).Rows.Count(row => row["fate"] == "accepted"));
        Assert.DoesNotContain(CsvTable.Read(workspace["out", "tables", "findings.csv"]).Rows,
            row => row["rule"] is "missing" or "out_of_range" || row["rule"].StartsWith("not_", StringComparison.Ordinal));
    }

    [Fact]
    public async Task No_key_date_or_rare_word_of_an_export_gets_into_the_draft()
    {
        using var workspace = new Workspace();
        var init = await ToolProcess.Run(workspace.Folder, "init", "mine", "--from", Repository.InRoot("synthetic-data", "demo.csv"));
        Assert.True(init.Exit == 0, init.ToString());
        var draft = string.Concat(Directory.GetFiles(workspace["mine"]).Select(File.ReadAllText)) + init.Output;
        var rows = CsvTable.Read(Repository.InRoot("synthetic-data", "demo.csv")).Rows.ToList();
        Assert.All(rows, row => Assert.DoesNotContain(row["Case ref"], draft, StringComparison.Ordinal));
        Assert.All(rows, row => Assert.DoesNotContain(row["Date of procedure"], draft, StringComparison.Ordinal));
        var rare = rows.GroupBy(row => row["Where"]).Where(words => words.Count() < 3).Select(words => words.Key).ToList();
        Assert.NotEmpty(rare);
        Assert.All(rare, word => Assert.DoesNotContain($"\"{word}\"", draft, StringComparison.Ordinal));
    }

    [Fact]
    public async Task An_identifying_column_is_not_mapped_and_it_says_what_to_take_out()
    {
        using var workspace = new Workspace();
        // 943 476 5919 is the NHS Data Dictionary's own example of a number that passes the check.
        workspace.Write("e.csv", "Case ref,Date,Surname,Link\n"
            + string.Concat(Enumerable.Range(10, 15).Select(i => $"k{i}x,{i}/01/2026,Nobody{i},943 476 5919\n")));
        var init = await ToolProcess.Run(workspace.Folder, "init", "mine", "--from", "e.csv");
        Assert.Equal(0, init.Exit);
        Assert.Contains("Take column 3, \"Surname\", out of the export: its heading names an identifier", init.Output,
            StringComparison.Ordinal);
        Assert.Contains("Take column 4, \"Link\", out of the export: it holds what looks like an NHS number as it is printed", init.Output,
            StringComparison.Ordinal);
        var mapping = workspace.Read("mine", "mapping.yaml");
        Assert.DoesNotContain("column: \"Surname\"", mapping, StringComparison.Ordinal);
        Assert.DoesNotContain("column: \"Link\"", mapping, StringComparison.Ordinal);
        Assert.DoesNotContain("Nobody", mapping + init.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("943", mapping + init.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_cannot_be_drafted_from_is_refused_and_nothing_is_made()
    {
        using var workspace = new Workspace();
        workspace.Write("attempts.csv", "Case ref,Attempt\na1,1\na1,2\nb1,1\n");
        workspace.Write("full/x", "");
        Assert.Equal(4, (await ToolProcess.Run(workspace.Folder, "init", "mine", "--from", "nowhere.csv")).Exit);
        Assert.Equal(2, (await ToolProcess.Run(workspace.Folder, "init", "mine", "--from", "attempts.csv")).Exit);
        Assert.Equal(5, (await ToolProcess.Run(workspace.Folder, "init", "full", "--from", "attempts.csv")).Exit);
        Assert.False(Directory.Exists(workspace["mine"]));
    }

    [Fact]
    public async Task The_shell_launcher_runs_the_pipeline_of_its_folder_or_says_that_the_tool_is_missing()
    {
        if (OperatingSystem.IsWindows())
        {
            Assert.Skip("report.sh is for systems with a POSIX shell");
            return;
        }

        using var workspace = new Workspace();
        var init = await ToolProcess.Run(workspace.Folder, "init", "my unit");
        Assert.True(init.Exit == 0, init.ToString());
        var script = workspace["my unit", "report.sh"];
        Assert.True(File.GetUnixFileMode(script).HasFlag(UnixFileMode.UserExecute));
        Directory.CreateDirectory(workspace["bin"]);
        Dictionary<string, string?> path = new() { ["PATH"] = workspace["bin"] };
        foreach (var needed in (string[])["dirname"])
            File.CreateSymbolicLink(workspace["bin", needed], "/usr/bin/" + needed);
        var without = await ToolProcess.Start("/bin/sh", workspace.Folder, path, script);
        Assert.Equal(127, without.Exit);
        Assert.Contains("not on this computer's PATH", without.Error, StringComparison.Ordinal);

        // The tool and the browser are stood in for by scripts that say what they were asked.
        foreach (var (name, text) in ((string, string)[])[("outcomes", "echo \"$PWD: $*\""), ("xdg-open", "echo open $1")])
        {
            var stand = workspace.Write(Path.Combine("bin", name), "#!/bin/sh\n" + text + "\n");
            File.SetUnixFileMode(stand, UnixFileMode.UserRead | UnixFileMode.UserExecute);
        }

        var with = await ToolProcess.Start("/bin/sh", workspace.Folder, path, script);
        Assert.True(with.Exit == 0, with.ToString());
        Assert.Contains("my unit: run pipeline.yaml --out report\nopen report/report.html", with.Output, StringComparison.Ordinal);
        Assert.Contains("\r\nwhere outcomes", workspace.Read("my unit", "report.cmd"), StringComparison.Ordinal);
    }
}

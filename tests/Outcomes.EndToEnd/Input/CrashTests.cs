using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Input that no one should write and someone will: every command refuses it in words, at its place, within seconds.</summary>
public sealed class CrashTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Theory]
    [InlineData("strata: [location_type]", "strata: [#x]", "pipeline.yaml:7:")]
    [InlineData("strata: [location_type]", "strata: {", "pipeline.yaml:7:")]
    [InlineData("strata: [location_type]", "? [a, b]\n: x", "pipeline.yaml:7: a list or a map cannot be a key")]
    [InlineData("strata: [location_type]", "? {a: b}\n: x", "pipeline.yaml:7: a list or a map cannot be a key")]
    [InlineData("strata: [location_type]", "strata:\n\t- location_type", "pipeline.yaml:8: a tab indents")]
    [InlineData("strata: [location_type]", "colour:\n\n\n  blue", "pipeline.yaml:7: unknown key `colour`")]
    [InlineData("as_of: 2026-02-01", "as_of: 9999-12-31", "pipeline.yaml:2: expected a date")]
    [InlineData("months: 12", "months: 2147483647", "pipeline.yaml:8: a baseline has 1 to 600 months")]
    [InlineData("from: 2026-01", "from: 9999-01", "pipeline.yaml:8: expected a month")]
    [InlineData("file: rows.csv", "file: \"a\\0b\"", "pipeline.yaml:4: a NUL character")]
    [InlineData("mapping: mapping.yaml", "mapping: \"a\\0b\"", "pipeline.yaml:4: a NUL character")]
    [InlineData("fields: fields.json", "store: \"\"", "pipeline.yaml:5: `store` is empty")]
    [InlineData("fields: fields.json", "fields: \u0000", "pipeline.yaml:5: the file holds a NUL")]
    public async Task A_pipeline_that_is_wrong_is_exit_3_with_file_and_line(string from, string to, string says)
    {
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace(from, to, StringComparison.Ordinal));
        Stopped(3, await Check(), says);
    }

    [Theory]
    [InlineData("[", 100_000)]
    [InlineData("{a: ", 20_000)]
    [InlineData("- ", 20_000)]
    public async Task Nesting_without_end_is_exit_3_at_once(string opening, int times)
    {
        _workspace.Write("pipeline.yaml", "name: x\nstrata:\n  " + string.Concat(Enumerable.Repeat(opening, times)));
        Stopped(3, await Check(), "pipeline.yaml:3: lists and maps are nested more than 64 deep");
    }

    [Fact]
    public async Task A_code_that_stands_twice_but_for_blanks_is_exit_3()
    {
        _workspace.Write("mapping.yaml", TinyPipeline.Mapping.Replace("{column: place}", "{column: place, codes: {A: ed, \"A \": icu}}",
            StringComparison.Ordinal));
        Stopped(3, await Check(), "mapping.yaml:4: the code `A` stands twice");
    }

    [Theory]
    [InlineData("run", "pipeline.yaml", "--out", "")]
    [InlineData("demo", "--out", "")]
    [InlineData("check", "")]
    [InlineData("init", "")]
    [InlineData("query", "pipeline.yaml", "")]
    [InlineData("run", "pipeline.yaml", "--month", "9999-12")]
    [InlineData("run", "pipeline.yaml", "--month", "2026-03")]
    [InlineData("run", "pipeline.yaml", "--as-of", "9999-12-31")]
    [InlineData("check", "pipeline.yaml", "--as-of", "0001-01-01")]
    [InlineData("synthesise", "--out", "s", "--procedures", "2147483647")]
    [InlineData("query", "pipeline.yaml", "SELECT 1", "--seconds", "0")]
    public async Task A_command_line_without_sense_is_exit_2(params string[] arguments) =>
        Stopped(2, await ToolProcess.Run(_workspace.Folder, arguments), arguments.Contains("") ? " is empty" : arguments[^2]);

    [Theory]
    [InlineData("sum(9223372036854775807) FROM range(10)", "92233720368547758070")]
    [InlineData("'inf'::DOUBLE, 'nan'::DOUBLE", "inf,nan")]
    [InlineData("sum(1e308) FROM range(3)", "inf")]
    [InlineData("[1, 2], {'a': true}, 'x'::BLOB", "\"[1, 2]\",{a: yes},78")]
    [InlineData("TIMESTAMP '2026-01-02 03:04:05'", "2026-01-02 03:04:05")]
    [InlineData("chr(27) || '[31m', chr(8238) || 'x', '＝1'", "{U+001B}[31m,{U+202E}x,'＝1")]
    public async Task A_query_shows_values_of_every_type(string select, string row)
    {
        var result = await Query("SELECT " + select);
        Assert.True(result.Exit == 0, result.ToString());
        Assert.Equal(row, result.Output.TrimEnd('\n').Split('\n')[^1]);
    }

    [Theory]
    [InlineData("SELECT 1e400", "beyond 1.8e308")]
    [InlineData("SELECT INTERVAL '2 months'", "column 1 of the answer")]
    [InlineData("SELECT DATE 'infinity'", "CAST(... AS VARCHAR)")]
    [InlineData("WITH RECURSIVE t(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM t) SELECT max(x) FROM t", "longer than 3 s")]
    [InlineData("SELECT * FROM range(3000000)", "more than 2,000,000 rows")]
    public async Task A_query_that_cannot_be_answered_is_exit_2_within_its_time(string sql, string says)
    {
        Stopped(2, await Query(sql, "--seconds", "3"), says);
    }

    [Fact]
    public async Task A_query_that_fails_on_a_value_does_not_print_it()
    {
        var result = await Query("SELECT CAST(record_id AS INTEGER) FROM records");
        Stopped(2, result, "Conversion Error");
        Assert.DoesNotContain("r1", result.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/dev/zero")]
    [InlineData("/proc/self/stat")]
    public async Task A_source_that_is_no_file_with_a_length_is_exit_4(string path)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Devices have these names on Linux.");
        Stopped(4, await Check("--source", "procedures=" + path), "a pipe or a device is not read");
    }

    [Fact]
    public async Task A_file_in_which_a_key_replaces_most_rows_is_a_question_on_check_and_exit_4_on_run()
    {
        _workspace.Write("rows.csv", Repeated(rows: 120, keys: 1));
        var check = await Check();
        Stopped(4, check, "");
        Assert.Contains("119 of 120 rows have a later row with the same key", check.Output, StringComparison.Ordinal);
        Assert.Contains("repeated_keys, column id", check.Output, StringComparison.Ordinal);
        var run = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--out", "out", "--charts", "none");
        Stopped(4, run, "119 of 120 rows", "repeated_keys: expected");
        Assert.False(File.Exists(_workspace["out", "report.html"]));
        Assert.Contains("repeated_keys", _workspace.Read("out", "tables", "findings.csv"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(120, 60, "")]
    [InlineData(19, 1, "")]
    [InlineData(120, 1, ", repeated_keys: expected")]
    public async Task Repeated_keys_pass_where_they_are_few_or_expected(int rows, int keys, string confirmed)
    {
        _workspace.Write("rows.csv", Repeated(rows, keys));
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("mapping: mapping.yaml", "mapping: mapping.yaml" + confirmed,
            StringComparison.Ordinal));
        var check = await Check();
        Assert.True(check.Exit == 0, check.ToString());
        Assert.DoesNotContain("repeated_keys", check.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_later_export_may_replace_every_row_of_an_earlier_one()
    {
        _workspace.Write("old.csv", Repeated(rows: 120, keys: 120));
        _workspace.Write("new.csv", Repeated(rows: 120, keys: 120));
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("{file: rows.csv, mapping: mapping.yaml}",
            "{file: old.csv, mapping: mapping.yaml}\n  later: {file: new.csv, mapping: mapping.yaml}", StringComparison.Ordinal));
        var check = await Check();
        Assert.True(check.Exit == 0, check.ToString());
    }

    private static string Repeated(int rows, int keys) => "id,day,place,attempts,first\n"
        + string.Concat(Enumerable.Range(0, rows)
            .Select(i => FormattableString.Invariant($"k{i % keys},2026-01-{(i % 28) + 1:00},icu,1,yes\n")));

    private Task<ToolResult> Check(params string[] more) => ToolProcess.Run(_workspace.Folder, ["check", "pipeline.yaml", .. more]);

    private Task<ToolResult> Query(string sql, params string[] more) =>
        ToolProcess.Run(_workspace.Folder, ["query", "pipeline.yaml", sql, "--format", "csv", .. more]);

    private static void Stopped(int exit, ToolResult result, params string[] says)
    {
        Assert.True(result.Exit == exit, result.ToString());
        foreach (var words in says) Assert.Contains(words, result.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("internal error", result.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", result.Error, StringComparison.Ordinal);
    }
}

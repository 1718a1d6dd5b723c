using Outcomes.Cli.Output;
using Outcomes.Records;

namespace Outcomes.Tests.Cli;

/// <summary>What an output folder publishes, and what it does not.</summary>
public sealed class OutputFolderTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("outcomes-test-");

    private string Out => Path.Combine(_folder.FullName, "out");

    public void Dispose() => _folder.Delete(recursive: true);

    [Theory]
    [InlineData("network", "tables/ledger.csv")]
    [InlineData("public", "cases.html")]
    [InlineData("public", "tables/runcharts.csv")]
    public void A_set_for_others_with_a_file_that_is_not_for_them_is_not_published(string audience, string name)
    {
        using (var output = Open(audience))
        {
            Write(output, "report.html", name);
            var failure = Assert.Throws<Failure>(output.Publish);
            Assert.Equal(ExitCode.Output, failure.Code);
            Assert.Contains(name, failure.Message, StringComparison.Ordinal);
        }

        Assert.Empty(_folder.GetFileSystemInfos());
    }

    [Theory]
    [InlineData("from-another-run.csv")]
    [InlineData("report.html")]
    public void A_file_that_nobody_asked_a_place_for_or_that_grew_is_not_published(string name)
    {
        using (var output = Open("department"))
        {
            Write(output, "report.html");
            File.AppendAllText(Path.Combine(output.Path, name), "more");
            Assert.Throws<InvalidOperationException>(output.Publish);
        }

        Assert.False(Directory.Exists(Out));
    }

    [Fact]
    public void A_file_that_a_person_adds_while_a_run_is_under_way_is_not_replaced()
    {
        using (var output = Open("department")) Publish(output);
        using (var output = Open("department"))
        {
            Write(output, "report.html");
            var notes = Path.Combine(Out, "notes.txt");
            File.WriteAllText(notes, "my work");
            var failure = Assert.Throws<Failure>(output.Publish);
            Assert.Contains("`notes.txt`", failure.Message, StringComparison.Ordinal);
            Assert.Equal("my work", File.ReadAllText(notes));
        }
    }

    [Fact]
    public async Task Many_that_take_and_leave_one_folder_never_hold_it_two_at_a_time()
    {
        var (inside, most, done) = (0, 0, 0);
        await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => Task.Run(() =>
        {
            for (var i = 0; i < 40; i++)
            {
                using var output = Open("department");
                var now = Interlocked.Increment(ref inside);
                if (now > most) most = now;
                Thread.Yield();
                Interlocked.Decrement(ref inside);
                Interlocked.Increment(ref done);
            }
        })));
        Assert.Equal((1, 160), (most, done));
        Assert.Empty(_folder.GetFileSystemInfos());
    }

    private OutputFolder Open(string audience) => OutputFolder.Open(Out, new("tiny", "id", audience), new());

    private static void Publish(OutputFolder output)
    {
        Write(output, "report.html");
        output.Publish();
    }

    private static void Write(OutputFolder output, params string[] names)
    {
        foreach (var name in names) File.WriteAllText(output.PathOf(name), "x");
        var refusal = new Failure(ExitCode.Input, "refused", "rows.csv", rule: "rule");
        RunManifest.WriteRefused(output, refusal);
    }
}

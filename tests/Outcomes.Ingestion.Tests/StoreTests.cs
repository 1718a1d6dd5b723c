using System.Text;
using Outcomes.Ingestion;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

public class StoreTests
{
    private const string Text = "record_id,event_date,spo2_min,location_type\nR1,2024-01-31,97,icu\nR2,2024-01-31,x,icu\n";

    [Fact]
    public void An_unchanged_file_is_not_read_twice_under_whatever_name()
    {
        using var place = new Workplace();
        var first = place.Read(Text);
        var second = place.Read(Text, order: 3);
        Assert.True(first.ReadAnew);
        Assert.False(second.ReadAnew);
        Assert.Equal((first.Stored.Folder, 3), (second.Stored.Folder, second.Stored.Order));
        Assert.Equal(first.Stored.Records, second.Stored.Records);
        Assert.Equal(Stored.Notes(first), Stored.Notes(second));
        Assert.Equal(first.Stored.ProcedureFields.Order(StringComparer.Ordinal),
            second.Stored.ProcedureFields.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_changed_file_of_the_same_length_is_read_anew()
    {
        using var place = new Workplace();
        place.Read(Text);
        var changed = place.Read(Text.Replace("97", "96", StringComparison.Ordinal));
        Assert.True(changed.ReadAnew);
        Assert.Equal("96", Stored.Rows(changed.Stored.Records)[0]["spo2_min"]);
    }

    [Fact]
    public void A_changed_mapping_or_dictionary_is_read_anew()
    {
        using var place = new Workplace();
        place.Read(Text);
        Assert.True(place.Read(Text, Maps.Small with { Text = "# a word more" }).ReadAnew);
        var narrower = Maps.Dictionary.With([Maps.Dictionary.Find("procedure", "spo2_min")! with { Hard = new Interval(98, 100) }]);
        var source =
            Ingest.Read(new SourceRequest("s", 0, place.File(Encoding.UTF8.GetBytes(Text)), "s.csv", Maps.Small), narrower, place.Store);
        Assert.True(source.ReadAnew);
        Assert.Null(Stored.Rows(source.Stored.Records)[0]["spo2_min"]);
    }

    [Fact]
    public void What_an_interrupted_run_left_is_neither_used_nor_in_the_way()
    {
        using var place = new Workplace();
        var folder = place.Read(Text).Stored.Folder;
        Directory.CreateDirectory(Path.Combine(place.Store, "new-half"));
        File.WriteAllText(Path.Combine(place.Store, "new-half", "rows-0.parquet"), "half");
        File.Delete(Path.Combine(folder, "source.json"));
        var again = place.Read(Text);
        Assert.True(again.ReadAnew);
        Assert.Equal(2, Stored.Rows(again.Stored.Records).Count);
        File.WriteAllText(Path.Combine(folder, "source.json"), "{\"length\": 8");
        Assert.True(place.Read(Text).ReadAnew);
    }

    [Fact]
    public void A_refused_file_leaves_nothing()
    {
        using var place = new Workplace();
        Assert.Throws<Failure>(() => place.Read(Text + "R3,\"2024"));
        Assert.Empty(Directory.GetFileSystemEntries(place.Store));
    }

    [Fact]
    public void The_same_file_gives_the_same_bytes()
    {
        using var one = new Workplace();
        using var other = new Workplace();
        var text = "record_id,event_date,spo2_min,location_type\n"
            + string.Concat(Enumerable.Range(0, 3000).Select(i => $"R{i},2024-01-31,{i % 120},{(i % 7 == 0 ? "icu" : "unknown")}\n"));
        Assert.Equal(Bytes(one.Read(text, blockSize: 4096).Stored.Folder), Bytes(other.Read(text, blockSize: 4096).Stored.Folder));
    }

    private static List<string> Bytes(string folder) =>
        [.. Directory.EnumerateFiles(folder).Order(StringComparer.Ordinal).Select(
            file => Path.GetFileName(file) + Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(file))))];
}

using System.Security.Cryptography;
using System.Text;
using CsCheck;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

public class BlockReaderTests
{
    [Fact]
    public void Blocks_are_the_file_again_and_know_where_they_stand() =>
        Gen.Select(Pick.From("ab", ",", "\"x\ny\"", "\n", "\r\n", "\r", "é").Array[0, 40].Select(string.Concat), Gen.Int[1, 20])
            .Sample((text, size) =>
            {
                var bytes = Encoding.UTF8.GetBytes(text);
                var joined = new List<byte>();
                foreach (var (block, hash) in Blocks(bytes, size))
                {
                    Assert.Equal(joined.Count, block.Offset);
                    Assert.Equal(RecordEnd.LineBreaks(joined.ToArray()), block.LinesBefore);
                    Assert.False(joined.Count > 0 && joined[^1] == '\r' && block.Bytes.Span[0] == '\n');
                    joined.AddRange(block.Bytes.Span);
                    Assert.Equal(hash, SHA256.HashData(bytes));
                }

                Assert.Equal(bytes, joined);
            });

    [Theory]
    [InlineData("a,b\n1,2\n3,\"4\n5,6\n", 3)]
    [InlineData("a,b\n1,\"x\ny\"\n3,\"4", 4)]
    [InlineData("\"", 1)]
    [InlineData("a\r\n\"b\"\"", 2)]
    public void A_quote_that_never_closes_is_refused_with_its_line(string text, int line)
    {
        foreach (var size in (int[])[1, 7, 1 << 16])
        {
            var failure = Assert.Throws<Failure>(() => Blocks(Encoding.UTF8.GetBytes(text), size).ToList());
            Assert.Equal((ExitCode.Input, line), (failure.Code, failure.Line));
        }
    }

    [Fact]
    public void A_record_without_end_is_refused_before_memory_runs_out()
    {
        var text = new byte[BlockReader.MaximumRecord * 2 + 10];
        Array.Fill(text, (byte)'a');
        "h\n"u8.CopyTo(text);
        var failure = Assert.Throws<Failure>(() => Blocks(text, 1 << 20).ToList());
        Assert.Equal((ExitCode.Input, 2), (failure.Code, failure.Line));
    }

    private static IEnumerable<(Block Block, byte[] Hash)> Blocks(byte[] bytes, int size)
    {
        using var reader = new BlockReader(new MemoryStream(bytes), "f.csv", ',', size);
        var blocks = new List<Block>();
        var buffer = Array.Empty<byte>();
        while (reader.Next(ref buffer) is { } block)
            blocks.Add(block with { Bytes = block.Bytes.ToArray() });
        var hash = reader.Hash();
        return blocks.Select(block => (block, hash));
    }
}

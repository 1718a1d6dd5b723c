namespace Outcomes.Ingestion.Formats;

/// <summary>
/// A file that stops a library which reads it without end: a damaged file can send one round in circles, or on past the end. A table is
/// read about once; sixteen times over is no reading any more.
/// </summary>
internal sealed class BoundedStream(Stream file) : Stream
{
    private const int Times = 16, EmptyReads = 1_000;
    private const long Spare = 16 << 20;

    private readonly long _most = (file.Length * Times) + Spare;
    private long _read;
    private int _empty;

    public override bool CanRead => true;

    public override bool CanSeek => true;

    public override bool CanWrite => false;

    public override long Length => file.Length;

    public override long Position
    {
        get => file.Position;
        set => Seek(value, SeekOrigin.Begin);
    }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override int Read(Span<byte> buffer)
    {
        var read = file.Read(buffer);
        _read += read;
        if (read == 0 && buffer.Length > 0) _empty++;
        return _read <= _most && _empty <= EmptyReads ? read : throw new InvalidDataException("read without end");
    }

    public override long Seek(long offset, SeekOrigin origin)
    {
        var to = offset + (origin == SeekOrigin.Begin ? 0 : origin == SeekOrigin.Current ? file.Position : file.Length);
        return to >= 0 && to <= file.Length ? file.Seek(to, SeekOrigin.Begin) : throw new InvalidDataException("a place outside the file");
    }

    public override void Flush()
    {
    }

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
}

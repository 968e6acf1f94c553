using System.Net;

namespace DmxProbe.Capture.Live;

/// <summary>An address of an interface.</summary>
/// <param name="Address">The address.</param>
/// <param name="PrefixLength">Bits of the network part: 24 stands for the mask 255.255.255.0.</param>
public sealed record InterfaceAddress(IPAddress Address, int PrefixLength)
{
    /// <summary>Whether another address lies in the same subnet.</summary>
    public bool Holds(IPAddress other)
    {
        byte[] mine = Address.GetAddressBytes();
        byte[] theirs = other.GetAddressBytes();
        if (mine.Length != theirs.Length)
        {
            return false;
        }

        for (int bit = 0; bit < PrefixLength; bit += 8)
        {
            int keep = Math.Min(8, PrefixLength - bit);
            if (((mine[bit / 8] ^ theirs[bit / 8]) >> (8 - keep)) != 0)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>The address with its prefix length: <c>192.0.2.2/24</c>.</summary>
    public override string ToString() => $"{Address}/{PrefixLength}";
}
